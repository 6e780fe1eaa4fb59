"""What programs may do with a token, and what not."""

from __future__ import annotations

import json
from datetime import timedelta
from typing import Any

import pytest

from rubric import library
from service.api.operation import PDF
from service.api.table import OPERATIONS
from service.api.tokens import HAND_IN, READ_CLASS, READ_MARKS, READ_NAMES, SCOPES, SET_WORK, Rate
from service.people import guards
from service.records.acts import Act
from service.records.models import Assignment, Submission, Teaching, now
from service.records.token_models import KeyedDoing, Token
from tests.service.api.conftest import NUMBERS, Headers, WithToken
from tests.service.site import GIRDER, HEAVY_GIRDER, MISTAKEN, Site, post

API = "/api/v1"
MORE: tuple[tuple[str, ...], ...] = ((), (READ_NAMES,))


def ask(site: Site, token: Headers, path: str, **options: Any) -> Any:
    return site.visitor().open(f"{API}{path}", headers=token | options.pop("headers", {}), **options)


def new_attempt(site: Site, headers: Headers, key: str, text: bytes = GIRDER, **body: Any) -> Any:
    given = {"student_id": site.ids["Ada Fern"], "text": text.decode()} | body
    path = f"/assignments/{site.assignment}/attempts"
    return ask(site, headers, path, method="POST", json=given, headers={"Idempotency-Key": key})


def path_of(operation: Any, site: Site, attempt: int) -> str:
    numbers = NUMBERS | {"assignment_id": site.assignment, "attempt_id": attempt}
    return str(operation.path.format(**numbers))


@pytest.fixture
def attempt(site: Site) -> int:
    number = site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    return number


def test_the_table_names_every_route_and_no_other(site: Site) -> None:
    rules = [rule for rule in site.app.url_map.iter_rules() if rule.endpoint.startswith(f"{guards.PROGRAMS}.")]
    routes = {(rule.endpoint.partition(".")[2], method) for rule in rules for method in rule.methods or ()}
    asked = {(one.endpoint, one.method.upper()) for one in OPERATIONS}
    assert {route for route in routes if route[1] in ("GET", "POST")} == asked | {("description", "GET")}


@pytest.mark.usefixtures("unbounded")
def test_each_operation_opens_with_its_scope_and_with_no_other(full: Site, with_token: WithToken) -> None:
    tokens = [({*more, scope}, with_token(scope, *more, by="Cora Vale")) for scope in SCOPES for more in MORE]
    for operation in OPERATIONS:
        needed = {operation.scope, READ_NAMES if operation.named else ""} - {""}
        for scope, headers in tokens:
            status = ask(full, headers, path_of(operation, full, 1), method=operation.method).status_code
            allowed = needed <= scope
            assert (status == 403) != allowed, (operation.endpoint, scope, status)
            assert status in (200, 202, 400, 403, 409, 415), (operation.endpoint, scope, status)


@pytest.mark.usefixtures("unbounded")
def test_without_a_good_token_nothing_opens_not_even_in_a_session(site: Site, attempt: int) -> None:
    client = site.signed_in("Cora Vale")
    for header in ({}, {"Authorization": "Bearer kingpost_x"}, {"Authorization": "Basic eDp5"}):
        for operation in OPERATIONS:
            answer = client.open(f"{API}{path_of(operation, site, attempt)}", method=operation.method, headers=header)
            assert (answer.status_code, answer.headers["WWW-Authenticate"]) == (401, "Bearer")
            assert answer.content_type == "application/problem+json"


def test_a_token_opens_its_own_class_alone_whoever_made_it(site: Site, with_token: WithToken) -> None:
    headers = with_token(by="Cora Vale")
    theirs = site.hand_in(site.signed_in("Cleo Marsh"), assignment=site.other_assignment)
    for path in ("/classes/2", "/classes/2/students", f"/assignments/{site.other_assignment}", f"/attempts/{theirs}"):
        assert ask(site, headers, path).status_code == 404, path
    stranger = new_attempt(site, headers, "k", student_id=site.ids["Cleo Marsh"])
    assert (stranger.status_code, stranger.json["title"]) == (422, "No such student")


def test_a_token_ends_with_its_makers_part_in_the_class_and_when_it_is_revoked(
    site: Site, with_token: WithToken
) -> None:
    mine, other = with_token(), with_token(by="Cora Vale")
    with site.records.write() as session:
        session.query(Teaching).filter_by(person_id=site.ids["Tess Birch"]).delete()
        session.query(Token).filter_by(by_id=site.ids["Cora Vale"]).one().revoked_at = now()
    assert [ask(site, headers, "/classes").status_code for headers in (mine, other)] == [401, 401]


def test_names_need_a_scope_of_their_own(site: Site, with_token: WithToken) -> None:
    bare = ask(site, with_token(READ_CLASS), "/classes/1/students").json["items"]
    named = ask(site, with_token(READ_CLASS, READ_NAMES), "/classes/1/students").json["items"]
    assert [one["name"] for one in bare] == [None, None]
    assert [one["name"] for one in named] == ["Ada Fern", "Ben Holt"]
    assert [one["id"] for one in bare] == [one["id"] for one in named]


def test_a_hand_in_is_marked_and_read_back(site: Site, with_token: WithToken) -> None:
    headers = with_token(HAND_IN, READ_MARKS)
    taken = new_attempt(site, headers, "one")
    assert (taken.status_code, taken.json["state"], taken.json["total"]) == (202, "received", None)
    where = taken.location.removeprefix(API)
    assert ask(site, headers, f"{where}/marks").status_code == 409
    site.work()
    assert (ask(site, headers, where).json["total"], ask(site, headers, f"{where}/marks").json["total"]) == (90, 90)
    assert ask(site, headers, f"{where}/outcome").json["analysis"]["state"] == "stable"
    sheet = ask(site, headers, f"{where}/sheet")
    assert (sheet.content_type, sheet.data[:5]) == (PDF, b"%PDF-")


def test_the_same_key_hands_in_once_and_belongs_to_one_body(site: Site, with_token: WithToken) -> None:
    headers = with_token(HAND_IN)
    first = new_attempt(site, headers, "one")
    site.work()
    again = new_attempt(site, headers, "one")
    assert (again.status_code, again.json["id"], again.json["state"]) == (202, first.json["id"], "marked")
    other = new_attempt(site, headers, "one", HEAVY_GIRDER)
    assert (other.status_code, other.json["title"]) == (422, "The key was used before")
    assert new_attempt(site, headers, "two", HEAVY_GIRDER).json["number"] == 2
    with site.records.read() as session:
        assert (session.query(Submission).count(), session.query(KeyedDoing).count()) == (2, 2)


@pytest.mark.parametrize("key", ["", "a b", "x" * 81, "ü"])
def test_a_hand_in_needs_a_key(site: Site, with_token: WithToken, key: str) -> None:
    answer = new_attempt(site, with_token(), key)
    assert (answer.status_code, answer.json["title"]) == (400, "No key")


def test_a_mistake_in_a_file_is_told_with_line_and_column(site: Site, with_token: WithToken) -> None:
    headers = with_token()
    where = new_attempt(site, headers, "one", MISTAKEN).location.removeprefix(API)
    site.work()
    (mistake,) = ask(site, headers, where).json["mistakes"]
    assert (mistake["line"], mistake["column"], mistake["found"]) == (6, 8, "the stick 'sqare5'")


def test_work_is_set_and_a_brief_with_problems_is_refused_with_their_places(site: Site, with_token: WithToken) -> None:
    headers = with_token(SET_WORK, READ_CLASS)
    texts = {
        "brief": library.brief_text("brook-bridge").decode(),
        "rubric": library.rubric_text("brook-bridge").decode(),
    }
    key = {"Idempotency-Key": "brook"}
    made = ask(site, headers, "/classes/1/assignments", method="POST", json=texts | {"title": "Brook"}, headers=key)
    assert (made.status_code, made.json["title"], made.json["brief"]) == (201, "Brook", texts["brief"])
    assert ask(site, headers, made.location.removeprefix(API)).json == made.json
    wrong = texts | {"brief": texts["brief"].replace("span: 300 mm", "span: wide"), "rubric": "title: x\n"}
    answer = ask(site, headers, "/classes/1/assignments", method="POST", json=wrong, headers=key)
    assert (answer.status_code, answer.content_type) == (422, "application/problem+json")
    assert {"file": "brief", "line": 4, "column": 7}.items() <= answer.json["problems"][0].items()
    assert answer.json["problems"][-1]["file"] == "rubric"


@pytest.mark.parametrize(
    ("body", "status"),
    [(b"", 422), (b"{", 422), (b"[]", 422), (b'{"student_id": "1", "text": "x"}', 422), (b'{"text": "\\ud800"}', 422)],
)
def test_a_body_that_cannot_be_read_is_told_field_by_field(
    site: Site, with_token: WithToken, body: bytes, status: int
) -> None:
    path, header = f"/assignments/{site.assignment}/attempts", {"Idempotency-Key": "k"}
    answer = ask(site, with_token(), path, method="POST", data=body, content_type="application/json", headers=header)
    assert answer.status_code == status
    assert answer.json["fields"]


def test_pages_follow_each_other_by_a_cursor_and_lose_nothing(site: Site, with_token: WithToken) -> None:
    headers, client = with_token(), site.signed_in("Ada Fern")
    for n in range(5):
        site.hand_in(client, GIRDER.replace(b"Double", f"No {n}".encode()))
    path, seen, cursor = f"/assignments/{site.assignment}/attempts?limit=2", [], ""
    while cursor is not None:
        page = ask(site, headers, path + cursor).json
        seen.append([one["number"] for one in page["items"]])
        cursor = f"&cursor={page['next']}" if page["next"] else None  # type: ignore[assignment]
    assert seen == [[1, 2], [3, 4], [5]]


@pytest.mark.parametrize(
    "query", ["limit=0", "limit=201", "limit=x", "cursor=-1", "cursor=a", "sort=name", "limit=1&limit=2"]
)
def test_a_query_that_cannot_be_read_is_refused(site: Site, with_token: WithToken, query: str) -> None:
    assert ask(site, with_token(), f"/classes/1/students?{query}").status_code == 400


def test_who_asks_too_often_is_told_when_to_come_back(site: Site, with_token: WithToken) -> None:
    moment = [0.0]
    site.app.extensions["kingpost.rate"] = Rate(at_once=2, each_second=0.5, clock=lambda: moment[0])
    one, other = with_token(), with_token()
    assert [ask(site, one, "/classes").status_code for _ in range(3)] == [200, 200, 429]
    assert ask(site, one, "/classes").headers["Retry-After"] == "2"
    assert ask(site, other, "/classes").status_code == 200
    moment[0] = 2.0
    assert ask(site, one, "/classes").status_code == 200


def test_the_rules_of_the_assignment_bind_programs_too(site: Site, with_token: WithToken) -> None:
    with site.records.write() as session:
        session.get_one(Assignment, site.assignment).opens = now() + timedelta(days=1)
    assert new_attempt(site, with_token(), "k").status_code == 409
    assert new_attempt(site, with_token(), "k", b" ").status_code == 422


def test_a_token_is_told_once_kept_as_a_hash_and_noted(site: Site) -> None:
    client = site.signed_in("Tess Birch")
    page = post(client, "/staff/classes/1/tokens", name="Mark book", scope=[READ_MARKS, "nonsense"]).text
    secret = page.partition('tabindex="0">')[2].partition("<")[0]
    assert secret.startswith("kingpost_")
    assert ask(site, {"Authorization": f"Bearer {secret}"}, "/classes").status_code == 200
    assert secret not in client.get("/staff/classes/1/tokens").text
    with site.records.read() as session:
        token = session.query(Token).one()
        assert (token.scopes, secret in str(vars(token))) == ([READ_MARKS], False)
        assert session.query(Act).filter_by(what="token made").one().word == str(token.id)
    post(client, f"/staff/classes/1/tokens/{token.id}/revoke")
    assert ask(site, {"Authorization": f"Bearer {secret}"}, "/classes").status_code == 401


def test_the_description_is_open_to_everybody_and_names_every_scope(site: Site) -> None:
    described = site.visitor().get(f"{API}/openapi.json").json
    assert described["openapi"].startswith("3.1")
    assert all(scope in json.dumps(described) for scope in SCOPES)
