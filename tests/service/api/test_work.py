"""What programs may do about marks, dates, versions and class lists."""

from __future__ import annotations

from typing import Any

import pytest

from service.api.openapi import openapi
from service.api.table import OPERATIONS
from service.api.tokens import GIVE_MARKS, READ_MARKS, SCOPES
from service.records.acts import Act
from service.records.models import Change, Person, SchoolClass, Submission
from tests.service.api.conftest import NUMBERS, Headers, WithToken
from tests.service.site import GIRDER, HEAVY_GIRDER, MISTAKEN, Site

pytestmark = pytest.mark.usefixtures("unbounded")


def ask(site: Site, token: Headers, path: str, body: Any = None, key: str = "") -> Any:
    headers = token | ({"Idempotency-Key": key} if key else {})
    if body is None:
        return site.visitor().get(f"/api/v1{path}", headers=headers)
    return site.visitor().post(f"/api/v1{path}", headers=headers, json=body)


def test_points_are_corrected_with_a_reason_and_the_change_is_read_back(full: Site, with_token: WithToken) -> None:
    headers = with_token(GIVE_MARKS, READ_MARKS)
    marks = ask(full, headers, "/attempts/1/marks").json
    first = marks["criteria"][0]
    wanted = {"criterion": first["name"], "points": first["points"] - 1, "why": "The deck is crooked."}
    corrected = ask(full, headers, "/attempts/1/corrections", {"corrections": [wanted]})
    assert (corrected.status_code, corrected.json["total"]) == (200, marks["total"] - 1)
    (change,) = ask(full, headers, "/attempts/1/changes").json["items"]
    assert (change["why"], change["by_id"]) == ("The deck is crooked.", full.ids["Tess Birch"])


def test_a_correction_without_a_reason_or_of_no_criterion_is_refused(full: Site, with_token: WithToken) -> None:
    headers = with_token(GIVE_MARKS, READ_MARKS)
    name = ask(full, headers, "/attempts/1/marks").json["criteria"][0]["name"]
    for wanted in ({"criterion": name, "points": 1, "why": ""}, {"criterion": "Beauty", "points": 1, "why": "x"}):
        assert ask(full, headers, "/attempts/1/corrections", {"corrections": [wanted]}).status_code == 422
    with full.records.read() as session:
        assert session.query(Change).count() == 0


def test_marks_are_held_and_released(full: Site, with_token: WithToken) -> None:
    headers = with_token(GIVE_MARKS)
    path = f"/assignments/{full.assignment}/release"
    assert ask(full, headers, path, {"do": "hold", "why": "We look at them together."}).json == {"changed": 1}
    with full.records.read() as session:
        assert session.get_one(Submission, 1).held
    assert ask(full, headers, path, {"do": "release", "attempt_ids": [1, 99]}).json == {"changed": 1}
    assert ask(full, headers, path, {"do": "release"}).json == {"changed": 0}


def test_the_class_table_says_how_far_each_student_is(full: Site, with_token: WithToken) -> None:
    path = f"/assignments/{full.assignment}/table"
    rows = ask(full, with_token(READ_MARKS), path).json["items"]
    assert [(row["state"], row["attempts"], row["name"]) for row in rows] == [
        ("needs attention", 1, None),
        ("not started", 0, None),
    ]
    assert ask(full, with_token(READ_MARKS, "read names"), path).json["items"][0]["name"] == "Ada Fern"


def test_two_attempts_are_compared(full: Site, with_token: WithToken) -> None:
    assert ask(full, with_token(READ_MARKS), "/attempts/1/compared").status_code == 409
    full.hand_in(full.signed_in("Ada Fern"), HEAVY_GIRDER)
    full.work()
    found = ask(full, with_token(READ_MARKS), "/attempts/2/compared").json
    assert (found["before_id"], found["after_id"]) == (1, 2)
    assert any("weighs" in said for said in found["did"])
    assert ask(full, with_token(READ_MARKS), "/attempts/1/compared?other_id=2").json == found


def test_a_student_gets_more_time_and_loses_it_again(full: Site, with_token: WithToken) -> None:
    headers, path = with_token(), f"/assignments/{full.assignment}"
    dates = {"opens": None, "due": "2027-03-01T16:00:00Z"}
    assert ask(full, headers, f"{path}/dates", dates).json["due"] == dates["due"]
    more = {"student_id": full.ids["Ada Fern"], "due": "2027-03-08T16:00:00Z", "why": "ill"}
    assert [one["why"] for one in ask(full, headers, f"{path}/extensions", more).json["items"]] == ["ill"]
    assert ask(full, headers, f"{path}/extensions", more | {"due": "2027-02-01T16:00:00Z"}).status_code == 422
    assert ask(full, headers, f"{path}/extensions", more | {"due": "2027-02-30T16:00:00Z"}).status_code == 422
    assert ask(full, headers, f"{path}/extensions", more | {"due": None}).json["items"] == []
    stranger = more | {"student_id": full.ids["Cleo Marsh"]}
    assert ask(full, headers, f"{path}/extensions", stranger).json["title"] == "No such student"


def test_many_files_are_handed_in_once_for_each_key(full: Site, with_token: WithToken) -> None:
    headers, path = with_token(), f"/assignments/{full.assignment}/bundle"
    names = ("Ben Holt", "Cleo Marsh")
    body = {"files": [{"student_id": full.ids[name], "text": GIRDER.decode()} for name in names]}
    first = ask(full, headers, path, body, key="k")
    assert [one["attempt_id"] for one in first.json["items"]] == [2, None]
    assert ask(full, headers, path, body, key="k").json == first.json
    with full.records.read() as session:
        assert session.query(Submission).count() == 2
        assert session.query(Act).filter_by(what="handed in for a pupil").count() == 1


def test_a_text_is_looked_at_and_what_was_seen_is_read_back(full: Site, with_token: WithToken) -> None:
    headers, path = with_token(), f"/assignments/{full.assignment}/look"
    body = {"student_id": full.ids["Ada Fern"], "text": MISTAKEN.decode()}
    assert ask(full, headers, path, body).json["stage"] == "waiting"
    assert ask(full, headers, path, body).status_code == 429
    full.work()
    seen = ask(full, headers, f"{path}?student_id={full.ids['Ada Fern']}").json
    assert (seen["stage"], seen["seen"]["mistakes"][0]["line"]) == ("done", 6)


def test_a_version_is_tried_saved_and_taken_back(full: Site, with_token: WithToken) -> None:
    headers, path = with_token(), f"/assignments/{full.assignment}"
    asked = ask(full, headers, path).json
    rubric = asked["rubric"] + "\nround to: 1\n"
    made = ask(full, headers, f"{path}/trials", {"brief": asked["brief"], "rubric": rubric}, key="k")
    assert (made.status_code, made.json["waiting"], made.json["items"][0]["attempt_id"]) == (201, 0, 1)
    saving = {"do": "both", "why": "whole points"}
    number = ask(full, headers, f"/trials/{made.json['id']}/save", saving).json["version_id"]
    assert [one["number"] for one in ask(full, headers, f"{path}/versions").json["items"]] == [2, 1]
    assert ask(full, headers, f"/versions/{number}").json["rubric"] == rubric
    undone = ask(full, headers, f"{path}/undo", {"why": "too coarse"}).json["items"]
    assert [one["attempts"] for one in undone] == [0, 1]
    assert ask(full, headers, f"{path}/undo", {"why": "again"}).status_code == 422


def test_what_is_undone_twice_by_the_same_number_is_undone_once(full: Site, with_token: WithToken) -> None:
    headers, path = with_token(), f"/assignments/{full.assignment}"
    asked = ask(full, headers, path).json
    numbers = []
    for place in ("1", "0.5"):
        texts = {"brief": asked["brief"], "rubric": f"{asked['rubric']}\nround to: {place}\n"}
        numbers.append(ask(full, headers, f"{path}/trials", texts, key=f"by-{len(numbers)}").json["id"])
        ask(full, headers, f"/trials/{numbers[-1]}/save", {"do": "both", "why": "x"})
    assert ask(full, headers, f"{path}/versions").json["last_trial_id"] == numbers[1]
    last = {"why": "too coarse", "trial_id": numbers[1]}
    assert ask(full, headers, f"{path}/undo", last).json["last_trial_id"] == numbers[0]
    assert ask(full, headers, f"{path}/undo", last).status_code == 422
    assert ask(full, headers, f"{path}/versions").json["last_trial_id"] == numbers[0]


def test_work_is_set_with_dates_a_contest_and_marks_that_wait(full: Site, with_token: WithToken) -> None:
    headers = with_token()
    asked = ask(full, headers, f"/assignments/{full.assignment}").json
    new = {name: asked[name] for name in ("brief", "rubric")} | {
        "opens": "2027-02-01T08:00:00Z",
        "due": "2027-03-01T16:00:00Z",
        "release_by_hand": True,
        "contest_id": full.contest,
    }
    made = ask(full, headers, "/classes/1/assignments", new, key="a").json
    assert {name: made[name] for name in new} == new
    early = ask(full, headers, "/classes/1/assignments", new | {"due": "2027-01-01T16:00:00Z"}, key="b")
    assert early.status_code == 422
    unknown = ask(full, headers, "/classes/1/assignments", new | {"contest_id": 99}, key="c")
    assert (unknown.status_code, unknown.json["title"]) == (422, "No such contest")
    summer = new | {"contest_id": None, "new_contest": "Summer bridges"}
    own = ask(full, headers, "/classes/1/assignments", summer, key="d").json
    assert ask(full, headers, f"/contests/{own['contest_id']}").json["title"] == "Summer bridges"


def test_a_student_gets_more_attempts_and_loses_them_again(full: Site, with_token: WithToken) -> None:
    headers, path = with_token(), f"/assignments/{full.assignment}/extra-attempts"
    more = {"student_id": full.ids["Ada Fern"], "more": 2, "why": "The power failed."}
    assert ask(full, headers, path, more).status_code == 422  # attempts have no end here
    full.ask(attempts={"most": 3})
    assert ask(full, headers, path, more).json["items"] == [more]
    assert ask(full, headers, path).json["items"] == [more]
    assert ask(full, headers, path, more | {"more": 0}).json["items"] == []
    assert ask(full, headers, path, more | {"student_id": full.ids["Cleo Marsh"]}).status_code == 422


def test_marks_to_come_wait_where_a_program_says_so(full: Site, with_token: WithToken) -> None:
    headers, path = with_token(GIVE_MARKS), f"/assignments/{full.assignment}/release-setting"
    assert ask(full, headers, path, {"by_hand": True}).json["release_by_hand"] is True
    number = full.hand_in(full.signed_in("Ben Holt"))
    full.work()
    with full.records.read() as session:
        assert session.get_one(Submission, number).held
        assert session.query(Act).filter_by(what="when marks are given").one().word == "by hand"


def test_a_class_list_is_looked_at_first_and_then_brought_in(full: Site, with_token: WithToken) -> None:
    body = {"pupils": [{"name": "Ada Fern"}, {"name": "Nia Sand", "number": "77"}], "leavers": True}
    looked = ask(full, with_token(), "/classes/1/list", body).json
    assert (looked["new"], looked["leavers"], looked["sign_ins"]) == (1, 1, [])
    (new,) = ask(full, with_token(), "/classes/1/list", body | {"only_look": False}).json["sign_ins"]
    assert (new["name"], len(new["passphrase"].split("-"))) == ("Nia Sand", 3)
    ask(full, with_token(), "/classes/1/list", body | {"only_look": False, "sourced_id": "c-17"})
    with full.records.read() as session:
        assert session.query(Person).filter_by(name="Ben Holt").one().left_at is not None
        noted = session.query(Act).filter_by(what="class list brought in").order_by(Act.id)
        assert [one.word for one in noted] == ["1 new, by a program", "0 new, by a program"]
        assert session.get_one(SchoolClass, 1).sourced_id == "c-17"


def test_a_token_of_another_class_finds_nothing_of_this_one(full: Site, with_token: WithToken) -> None:
    """Class 7A takes part in the same contest, so that what stands on its day is open to both."""
    headers = with_token(by="Cora Vale", class_id=2) | {"Idempotency-Key": "k"}
    shared = ("/contests/", "/stations/", "/readings/", "/protests/", "/entries/", "/office/")
    for operation in OPERATIONS:
        path = operation.path.format(**NUMBERS)
        answer = full.visitor().open(f"/api/v1{path}", method=operation.method, headers=headers, json={})
        own = operation.endpoint in ("withdraw", "protest") or not operation.path.startswith(shared)
        own = own and operation.endpoint not in ("blind_work", "mark_blind")  # its maker was asked, in person
        assert (answer.status_code == 404) == (own and "{" in operation.path), (path, answer.text)


def test_every_shape_is_described_under_its_own_name() -> None:
    wanted = {one.answer.__name__ for one in OPERATIONS if not isinstance(one.answer, str)}
    wanted |= {one.body.__name__ for one in OPERATIONS if one.body}
    assert wanted <= set(openapi()["components"]["schemas"])
    assert {one.scope for one in OPERATIONS} - {""} | {"read names"} == set(SCOPES)
