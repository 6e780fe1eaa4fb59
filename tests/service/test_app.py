"""What holds for every page: headers, cookies, hosts, pages for errors, one look."""

from __future__ import annotations

import dataclasses
import re
from pathlib import Path

import pytest

import service
from service.app import create_app
from service.records.engine import Records
from tests.service.site import Site, StubSender, post, settings_for

PLACES = Path(service.__file__).parent


@pytest.mark.parametrize("page", ["/sign-in", "/health", "/nothing", "/desk"])
def test_every_answer_carries_the_guards(site: Site, page: str) -> None:
    headers = site.visitor().get(page).headers
    policy = headers["Content-Security-Policy"]
    assert policy.startswith("default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'")
    assert "unsafe" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "no-referrer"
    assert headers["Cache-Control"] == "no-store"


def test_the_cookie_is_for_our_pages_alone(site: Site) -> None:
    cookie = site.visitor().get("/sign-in").headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie
    assert "Secure" not in cookie


def test_behind_https_the_cookie_is_secure(records: Records, tmp_path: Path) -> None:
    settings = dataclasses.replace(settings_for(records, tmp_path), secure_cookies=True)
    cookie = create_app(settings, StubSender()).test_client().get("/sign-in").headers["Set-Cookie"]
    assert "Secure" in cookie


def test_a_host_that_is_not_ours_is_refused(records: Records, tmp_path: Path) -> None:
    settings = dataclasses.replace(settings_for(records, tmp_path), trusted_hosts=("kingpost.school",))
    client = create_app(settings, StubSender()).test_client()
    assert client.get("/health", base_url="http://kingpost.school").status_code == 200
    assert client.get("/sign-in", base_url="http://evil.example").status_code == 400


def test_forwarding_headers_are_believed_only_behind_a_proxy(records: Records, tmp_path: Path) -> None:
    plain = settings_for(records, tmp_path)
    for hops, scheme in ((0, "http"), (1, "https")):
        app = create_app(dataclasses.replace(plain, proxy_hops=hops), StubSender())
        app.add_url_rule("/help/scheme", "classes.truss_file_help2", lambda: "")
        seen = []
        app.before_request_funcs[None].insert(0, lambda seen=seen: seen.append(__import__("flask").request.scheme))
        app.test_client().get("/health", headers={"X-Forwarded-Proto": "https"})
        assert seen == [scheme]


@pytest.mark.parametrize("status", [403, 404, 413, 429, 500, 503, 507])
def test_each_error_has_a_page_that_says_what_to_do(site: Site, status: int) -> None:
    from service.faults import WORDING, fault_page

    with site.app.test_request_context("/"):
        answer = fault_page(status)
    assert answer.status_code == status
    assert WORDING[status][0] in answer.get_data(as_text=True)


def test_a_crash_is_a_page_and_shows_no_code(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    from service.records import queries

    client = site.signed_in("Ada Fern")
    monkeypatch.setattr(queries, "assignment", lambda *_: 1 / 0)
    answer = client.get(f"/assignments/{site.assignment}")
    assert answer.status_code == 500
    assert "It is not your fault." in answer.text
    assert "ZeroDivision" not in answer.text


def test_where_the_database_is_gone_the_page_still_comes(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    site.app.extensions["kingpost"].engine.dispose()
    Path(site.records.engine.url.database or "").unlink()
    answer = site.visitor().get("/sign-in")
    assert answer.status_code == 200
    assert site.visitor().get("/health").status_code in (200, 500)


def test_pages_hold_no_inline_style_or_script_and_no_foreign_address() -> None:
    for template in (PLACES / "templates").glob("*.html"):
        text = template.read_text()
        assert not re.search(r"style=|\son\w+=|<style|<script(?! src=)|https?://|//cdn", text), template.name
    for file in (PLACES / "static").iterdir():
        assert not re.search(r"(?<!xmlns=\")https?://|@import", file.read_text()), file.name


def test_no_template_switches_escaping_off() -> None:
    for template in (PLACES / "templates").glob("*.html"):
        assert not re.search(r"\|\s*safe|autoescape", template.read_text()), template.name


def test_names_of_people_and_work_stand_apart_from_the_sentence_around_them() -> None:
    of_people = r"(\.name|\.alias|\.title|\.file_name|class_name)\s*\}\}"
    for template in (PLACES / "templates").glob("*.html"):
        for line in template.read_text().splitlines():
            for found in re.finditer(
                rf"(\S*)\{{\{{ (person|school|assignment|place|submission|sign_in|row|contest|school_class|student)[.\w]*{of_people}",
                line,
            ):
                titled = "block title" in line or "<title>" in line  # which holds no elements
                typed = found[1].endswith('value="')  # nor does a field, which stands apart by itself
                assert found[1].endswith("<bdi>") or titled or typed or found[2] == "place", (template.name, line)


def test_health_is_plain(site: Site) -> None:
    answer = site.visitor().get("/health")
    assert (answer.status_code, answer.mimetype, answer.text) == (200, "text/plain", "ok\n")


def test_text_over_128_kb_in_a_form_is_refused(site: Site) -> None:
    answer = post(site.signed_in("Ada Fern"), f"/assignments/{site.assignment}/attempts", text="x" * 140_000)
    assert answer.status_code == 413
