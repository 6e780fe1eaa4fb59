"""Headers of every page in every role, and what a page may hold."""

from __future__ import annotations

import re

import pytest

from tests.service.security.doors import browsers
from tests.service.security.test_forgery import KNOWN
from tests.service.site import Site, post
from tests.service.test_routes import address


def pages(site: Site):  # type: ignore[no-untyped-def]
    """Answer to every question, by everybody."""
    site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    people = browsers(site)
    for rule in site.app.url_map.iter_rules():
        if "GET" in (rule.methods or ()) and set(rule.arguments) <= KNOWN and rule.endpoint != "static":
            for name in ("", "Ada Fern", "Tess Birch", "Cora Vale"):
                yield rule, people[name].get(address(site, rule, 1, 1))


def test_every_answer_in_every_role_carries_the_guards_and_no_page_an_inline_script(site: Site) -> None:
    seen = 0
    for rule, answer in pages(site):
        policy = dict(part.strip().split(" ", 1) for part in answer.headers["Content-Security-Policy"].split(";"))
        assert policy["default-src"] == policy["base-uri"] == policy["frame-ancestors"] == "'none'", rule
        assert {policy["script-src"], policy["style-src"], policy["img-src"], policy["form-action"]} == {"'self'"}, rule
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Referrer-Policy"] == "no-referrer"
        assert answer.headers["Cross-Origin-Opener-Policy"] == "same-origin"
        assert "Server" not in answer.headers
        if answer.mimetype == "text/html" and answer.status_code == 200:
            seen += 1
            assert not re.search(r"<script(?! src=\"/)|<style|\son[a-z]+=|\sstyle=|javascript:", answer.text), rule
            assert not re.search(r"(src|href|action)=\"(https?:)?//", answer.text), rule
    assert seen > 30


def test_what_one_person_saw_is_kept_by_no_cache_but_for_what_everybody_may_read(site: Site) -> None:
    for rule, answer in pages(site):
        if rule.endpoint != "help.schema":
            assert answer.headers["Cache-Control"] == "no-store", rule


@pytest.mark.parametrize("person", ["Ada Fern", "Tess Birch"])
def test_every_cookie_is_for_our_pages_alone_and_out_of_reach_of_scripts(site: Site, person: str) -> None:
    client, one = site.visitor(), site.secrets[person]
    if one.class_code:
        answer = post(client, "/sign-in", class_code=one.class_code, passphrase=one.secret)
    else:
        answer = post(client, "/sign-in/staff", name=one.name, password=one.secret)
    cookies = answer.headers.getlist("Set-Cookie")
    assert cookies
    for cookie in cookies:
        assert "HttpOnly" in cookie
        assert "SameSite=Lax" in cookie
        assert "Path=/" in cookie
        assert "Domain" not in cookie


@pytest.mark.parametrize("where", ["https://evil.example", "//evil.example/x", "/\\evil.example", "%2F%2Fevil.example"])
def test_no_page_sends_a_browser_elsewhere(site: Site, where: str) -> None:
    people = browsers(site)
    for rule in site.app.url_map.iter_rules():
        if "GET" in (rule.methods or ()) and set(rule.arguments) <= KNOWN and rule.endpoint != "static":
            for name in ("", "Ada Fern", "Cora Vale"):
                query = "&".join(f"{key}={where}" for key in ("next", "url", "return", "redirect", "to", "page"))
                answer = people[name].get(f"{address(site, rule, 1, 1)}?{query}")
                assert not answer.location or re.match(r"/(?![/\\])", answer.location), (rule, answer.location)
    for path in (f"/{where}", f"//{where.strip('/')}/"):
        answer = people[""].get(path)
        assert not answer.location or answer.location.startswith("/sign-in") or "evil" not in answer.location


def test_a_sign_in_leads_to_our_own_pages_whatever_is_asked_for(site: Site) -> None:
    one, client = site.secrets["Ada Fern"], site.visitor()
    answer = post(client, "/sign-in?next=//evil.example", class_code="8B", passphrase=one.secret, next="//evil.example")
    assert answer.location == "/"
