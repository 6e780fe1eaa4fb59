"""What a program that means harm would send: bodies of every wrong kind, other verbs, names with control signs."""

from __future__ import annotations

import json

import pytest

from rubric import library
from service.api.table import OPERATIONS
from tests.service.api.conftest import NUMBERS
from tests.service.api.conftest import full as full
from tests.service.security.doors import bearer, counts
from tests.service.site import GIRDER, Site

API = "/api/v1"
DEEP = 100_000

HOSTILE = {
    "lists in lists": b"[" * DEEP + b"]" * DEEP,
    "objects in objects": b'{"a":' * DEEP + b"1" + b"}" * DEEP,
    "lists in a member": b'{"why": ' + b"[" * DEEP + b"]" * DEEP + b"}",
    "a number of 9,000 digits": b'{"number": ' + b"9" * 9000 + b', "value": ' + b"9" * 9000 + b', "student_id": 1e999}',
    "no number": b'{"number": NaN, "value": Infinity, "points": -Infinity}',
    "a list": b'[{"why": "x"}]',
    "a text": b'"why"',
    "nothing": b"null",
    "half of a pair": b'{"why": "\\ud800", "text": "\\udfff", "name": "\\ud800"}',
    "nought bytes": b'{"why": "\x00", "text": "\\u0000"}',
    "no UTF-8": b'{"why": "\xff\xfe"}',
    "UTF-16": '{"why": "x"}'.encode("utf-16"),
    "a member of Python": b'{"__class__": "x", "__init__": {}, "why": {"$ref": "#"}}',
}


def paths() -> list[tuple[str, str]]:
    return [(one.endpoint, API + one.path.format(**NUMBERS)) for one in OPERATIONS if one.body is not None]


@pytest.mark.parametrize("kind", HOSTILE)
def test_a_hostile_body_is_refused_and_changes_nothing(full: Site, kind: str) -> None:
    full.app.testing = False
    headers = bearer(full)
    client = full.visitor()
    before = counts(full)
    for endpoint, path in paths():
        answer = client.post(path, headers=headers, data=HOSTILE[kind], content_type="application/json")
        assert answer.status_code == 422, (
            endpoint,
            answer.status_code,
            answer.text[:200],
        )
        assert len(answer.data) < 50_000, endpoint
    assert counts(full) == before


def test_every_other_verb_is_refused(site: Site) -> None:
    headers, before = bearer(site), counts(site)
    for operation in OPERATIONS:
        for verb in ("PUT", "PATCH", "DELETE", "TRACE", "PROPFIND"):
            path = API + operation.path.format(**NUMBERS)
            assert site.visitor().open(path, method=verb, headers=headers).status_code == 405, (operation.path, verb)
    assert counts(site) == before


def test_a_verb_cannot_be_put_in_a_header_or_a_field(site: Site) -> None:
    client, before = site.signed_in("Tess Birch"), counts(site)
    for name in ("X-HTTP-Method-Override", "X-HTTP-Method", "X-Method-Override"):
        assert client.get("/staff/classes/1/archive", headers={name: "POST"}).status_code == 405
    assert counts(site) == before


@pytest.mark.parametrize(
    "name", ["a\r\nSet-Cookie: x=1", "\u202eelif.yaml", "a\x00b", "x" * 10_000, '"; filename="b', "../../a"]
)
def test_a_file_name_from_a_program_reaches_no_header(site: Site, name: str) -> None:
    headers = bearer(site)
    body = {"student_id": site.ids["Ada Fern"], "text": GIRDER.decode(), "file_name": name}
    answer = site.visitor().post(f"{API}/assignments/{site.assignment}/attempts", headers=headers, json=body)
    assert answer.status_code in (202, 422), answer.text
    if answer.status_code == 202:
        sent = site.signed_in("Ada Fern").get(f"/attempts/{answer.json['id']}/file")
        said = sent.headers["Content-Disposition"]
        assert not any(sign in said for sign in "\r\n\x00\u202e")
        assert "Set-Cookie: x" not in str(sent.headers)
        assert "/" not in said.partition("filename")[2].replace("UTF-8''", "")


def test_a_title_with_control_signs_is_refused_or_shown_as_text(site: Site) -> None:
    texts = {"brief": library.brief_text("footbridge").decode(), "rubric": library.rubric_text("footbridge").decode()}
    for title in ("a\r\nX: y", "a\x1b[31m", "\x7f"):
        body = texts | {"title": title}
        headers = bearer(site) | {"Idempotency-Key": "k"}
        answer = site.visitor().post(f"{API}/classes/1/assignments", headers=headers, json=body)
        assert answer.status_code == 422, answer.text


def test_an_answer_is_stored_by_nobody_whatever_is_asked_for(site: Site) -> None:
    number = site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    headers = bearer(site)
    for path in (f"/attempts/{number}", f"/attempts/{number}/sheet", "/classes/1/students"):
        for more in (
            {},
            {"Range": "bytes=0-3"},
            {"If-None-Match": "*"},
            {"If-Modified-Since": "Wed, 01 Jan 2098 00:00:00 GMT"},
        ):
            answer = site.visitor().get(API + path, headers=headers | more)
            assert (answer.status_code, answer.headers["Cache-Control"]) == (200, "no-store"), (path, more)
    file = site.signed_in("Ada Fern").get(f"/attempts/{number}/sheet.pdf", headers={"Range": "bytes=0-3"})
    assert (file.status_code in (200, 206), file.headers["Cache-Control"]) == (True, "no-store")


def test_a_token_in_the_address_a_cookie_or_twice_opens_nothing(site: Site) -> None:
    secret = bearer(site)["Authorization"].removeprefix("Bearer ")
    client = site.visitor()
    client.set_cookie("Authorization", f"Bearer {secret}")
    for answer in (
        client.get(f"{API}/classes"),
        client.get(f"{API}/classes?access_token={secret}"),
        client.get(f"{API}/classes", headers={"Authorization": f"Bearer {secret} {secret}"}),
        client.get(f"{API}/classes", headers={"Authorization": f"Bearer {secret[:-1]}"}),
        client.get(f"{API}/classes", headers={"Authorization": "Bearer " + "x" * 60_000}),
    ):
        assert answer.status_code == 401
        assert secret not in answer.text


def test_a_token_opens_no_page_and_a_session_no_operation(site: Site) -> None:
    headers = bearer(site)
    assert site.visitor().get("/staff", headers=headers).status_code == 302
    assert site.signed_in("Cora Vale").get(f"{API}/classes").status_code == 401


def test_a_problem_repeats_nothing_that_could_be_markup(site: Site) -> None:
    body = json.dumps({"why": "x", "<script>alert(1)</script>": 1})
    path = f"{API}/assignments/{site.assignment}/undo"
    answer = site.visitor().post(path, headers=bearer(site), data=body, content_type="application/json")
    assert (answer.status_code, answer.content_type) == (422, "application/problem+json")
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
