"""What programs may do about a second marking, and learn of works that are alike."""

from __future__ import annotations

from typing import Any

import pytest

from service.api.tokens import GIVE_MARKS, READ_MARKS, READ_NAMES, SECOND_LOOK
from service.records.models import Change
from tests.service.api.conftest import Headers, WithToken
from tests.service.api.test_work import ask
from tests.service.site import GIRDER, Site

pytestmark = pytest.mark.usefixtures("unbounded")


@pytest.fixture
def hers(with_token: WithToken) -> Headers:
    return with_token(SECOND_LOOK, GIVE_MARKS)


@pytest.fixture
def his(with_token: WithToken) -> Headers:
    return with_token(SECOND_LOOK, READ_MARKS, by="Owen Reed", class_id=2)


def asked(full: Site, headers: Headers) -> int:
    """The number of a second marking that Owen Reed was asked for."""
    body = {"marker_id": full.ids["Owen Reed"], "attempt_ids": [1]}
    return int(ask(full, headers, "/assignments/1/second", body).json["items"][-1]["id"])


def criteria(full: Site, headers: Headers, number: int) -> list[str]:
    return [one["criterion"] for one in ask(full, headers, f"/second/{number}").json["to_judge"]]


def points(names: list[str], value: float) -> dict[str, Any]:
    return {"judged": [{"criterion": name, "points": value, "comment": f"gave {value:g}"} for name in names]}


def test_only_a_teacher_outside_the_class_is_asked_and_once(full: Site, hers: Headers, with_token: WithToken) -> None:
    markers = ask(full, with_token(SECOND_LOOK, READ_NAMES), "/assignments/1/second").json["markers"]
    assert markers == [{"id": full.ids["Owen Reed"], "name": "Owen Reed"}]
    assert ask(full, hers, "/assignments/1/second").json["markers"][0]["name"] is None
    own = {"marker_id": full.ids["Tess Birch"], "attempt_ids": [1]}
    assert ask(full, hers, "/assignments/1/second", own).status_code == 422
    assert asked(full, hers) == asked(full, hers)
    wrong = {"marker_id": full.ids["Owen Reed"], "attempt_ids": [1, 99]}
    assert ask(full, hers, "/assignments/1/second", wrong).json["title"] == "No such attempt"


def test_what_is_marked_blind_tells_nothing_of_whose_it_is(full: Site, hers: Headers, his: Headers) -> None:
    number = asked(full, hers)
    assert [one["id"] for one in ask(full, his, "/second").json["items"]] == [number]
    work = ask(full, his, f"/second/{number}")
    assert work.json["analysis"]["state"] == "stable"
    for told in ("Ada", "Fern", "Double-post", "student", "attempt_id", "8B"):
        assert told not in work.text, told
    assert ask(full, his, "/attempts/1").status_code == 404
    assert ask(full, his, f"/second/{number}/differences").status_code == 404


def test_what_differs_is_settled_with_a_reason_and_changes_the_mark(full: Site, hers: Headers, his: Headers) -> None:
    number = asked(full, hers)
    names = criteria(full, his, number)
    ask(full, hers, "/attempts/1/judgement", points(names, 5))
    assert ask(full, hers, f"/second/{number}/differences").json["items"] is None
    assert ask(full, his, f"/second/{number}", points([], 3)).status_code == 422
    assert len(ask(full, his, f"/second/{number}", points(names, 3)).json["given"]) == len(names)
    assert ask(full, his, f"/second/{number}", points(names, 4)).status_code == 422
    items = ask(full, hers, f"/second/{number}/differences").json["items"]
    assert [(one["first"], one["second"], one["stands"]) for one in items] == [(5, 3, None)] * len(names)
    one = {"criterion": names[0], "points": 4, "why": "Between the two."}
    settled = ask(full, hers, f"/second/{number}/settle", {"settled": [one]}).json["items"]
    assert (settled[0]["stands"], settled[0]["why"]) == (4, "Between the two.")
    assert ask(full, hers, "/assignments/1/second").json["items"][-1]["open"] == len(names) - 1
    with full.records.read() as session:
        assert session.query(Change).filter_by(what="second marking settled").one().why == "Between the two."


def test_what_was_asked_is_withdrawn_until_it_is_done(full: Site, hers: Headers, his: Headers) -> None:
    number = asked(full, hers)
    items = ask(full, hers, f"/second/{number}/withdraw", {}).json["items"]
    assert number not in [one["id"] for one in items]
    assert ask(full, his, f"/second/{number}").status_code == 404
    again = asked(full, hers)
    ask(full, his, f"/second/{again}", points(criteria(full, his, again), 3))
    assert ask(full, hers, f"/second/{again}/withdraw", {}).status_code == 409


def test_works_that_are_alike_are_found_and_those_of_other_classes_keep_their_numbers(
    full: Site, hers: Headers
) -> None:
    assert ask(full, hers, "/assignments/1/alike").json["works"] is None
    odd = GIRDER.replace(b"150, 120", b"163, 111").replace(b"450, 120", b"437, 103").replace(b"300, 120", b"291, 134")
    for name in ("Ada Fern", "Ben Holt", "Cleo Marsh"):
        full.hand_in(full.signed_in(name), odd, full.other_assignment if name == "Cleo Marsh" else full.assignment)
    full.work()
    asked = ask(full, hers, "/assignments/1/alike", {})
    assert (asked.status_code, asked.json["waiting"]) == (202, True)
    full.work()
    told = ask(full, hers, "/assignments/1/alike").json
    found = [{one[side]["student_id"] for side in ("first", "other")} for one in told["pairs"]]
    assert {1, 2} in found
    assert {1, None} in found
    assert all(one["percent"] >= 99 for one in told["pairs"])
