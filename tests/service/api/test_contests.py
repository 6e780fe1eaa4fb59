"""What programs may do on a contest day."""

from __future__ import annotations

import pytest

from service.api.table import OPERATIONS
from service.records.contest_models import RawReading
from tests.service.api.conftest import NUMBERS, WithToken
from tests.service.api.test_work import ask
from tests.service.site import Site

pytestmark = pytest.mark.usefixtures("unbounded")


def test_a_teachers_token_does_nothing_that_only_a_coordinator_may(full: Site, with_token: WithToken) -> None:
    headers = with_token(by="Tess Birch")
    for operation in (one for one in OPERATIONS if one.coordinator):
        body = None if operation.method == "get" else {}
        answer = ask(full, headers, operation.path.format(**NUMBERS), body)
        assert (answer.status_code, answer.json["detail"][:11]) == (403, "Only a coor"), operation.endpoint


def test_a_reading_is_kept_once_for_each_key_and_taken_back_with_a_reason(full: Site, with_token: WithToken) -> None:
    headers = with_token(by="Cora Vale")
    load = {"number": 1, "value": 180.5, "unit": "N", "sure": True}
    first = ask(full, headers, "/stations/2/readings", load, key="a")
    again = ask(full, headers, "/stations/2/readings", load, key="a")
    assert (first.status_code, first.json["value"], first.json) == (201, 180.5, again.json)
    other = ask(full, headers, "/stations/2/readings", load | {"value": 99}, key="a")
    assert (other.status_code, other.json["title"]) == (422, "The key was used before")
    taken = ask(full, headers, "/stations/2/readings", load, key="b")
    assert (taken.status_code, "tested already" in taken.json["detail"]) == (409, True)
    number = first.json["id"]
    undone = ask(full, headers, f"/readings/{number}/undo", {"why": "A cable caught it."}, key="c")
    assert (undone.status_code, undone.json["undoes_id"]) == (201, number)
    assert ask(full, headers, f"/readings/{number}/undo", {"why": "x"}, key="c").json["id"] == undone.json["id"]
    with full.records.read() as session:
        assert session.query(RawReading).count() == 3


def test_the_same_key_of_two_tokens_is_two_keys(full: Site, with_token: WithToken) -> None:
    one, two = with_token(by="Cora Vale"), with_token(by="Cora Vale")
    load = {"number": 1, "value": 180.5, "unit": "N", "sure": True}
    assert ask(full, one, "/stations/2/readings", load, key="a").status_code == 201
    assert ask(full, two, "/stations/2/readings", load, key="a").status_code == 409


def test_a_reading_out_of_range_is_asked_about_once(full: Site, with_token: WithToken) -> None:
    headers, heavy = with_token(by="Cora Vale"), {"number": 1, "value": 5, "unit": "N"}
    assert ask(full, headers, "/stations/2/readings", heavy, key="a").json["title"] == "The reading is out of range"
    kept = ask(full, headers, "/stations/2/readings", heavy | {"sure": True}, key="a")
    assert (kept.status_code, bool(kept.json["flagged"])) == (201, True)


def test_how_a_bridge_broke_goes_in_and_comes_out_in_one_of_few_ways(full: Site, with_token: WithToken) -> None:
    headers, load = with_token(by="Cora Vale"), {"number": 1, "value": 180.5, "unit": "N", "sure": True}
    refused = ask(full, headers, "/stations/2/readings", load | {"how": "vanished"}, key="a")
    assert refused.status_code == 422
    kept = ask(full, headers, "/stations/2/readings", load | {"broke": "a", "how": "joint came off"}, key="a")
    assert (kept.json["broke"], kept.json["how"]) == ("a", "joint came off")


def test_a_day_is_run_by_programs_from_rules_to_the_published_list(full: Site, with_token: WithToken) -> None:
    mine, hers = with_token(by="Cora Vale"), with_token(by="Tess Birch")
    rules = {"rules": "title: T\nrig: {most: 500 N}\n", "why": "A stronger rig."}
    assert ask(full, mine, "/contests/1/rules", rules).json["rules_version"] == 2
    assert ask(full, mine, "/contests/1/freeze", {}).json == {"entries": 1}
    assert ask(full, mine, "/contests/1/order", {}).json["items"][0]["running"] == 1
    opened = ask(full, hers, "/contests/1/stations", {"kind": "load test", "name": "Rig 2"})
    assert (opened.status_code, opened.json["title"]) == (409, "The contest does not allow it")
    load = {"number": 1, "value": 180.5, "unit": "N", "sure": True}
    assert ask(full, mine, "/stations/2/readings", load, key="a").status_code == 201
    assert ask(full, hers, "/contests/1/list").json["unconfirmed"] == [1]
    assert ask(full, mine, "/contests/1/lists", {}).status_code == 409
    assert ask(full, hers, "/entries/1/confirm", {}).status_code == 200
    assert ask(full, mine, "/protests/1/answer", {"text": "It was dry."}).json["answer"] == "It was dry."
    published = ask(full, mine, "/contests/1/lists", {})
    assert (published.status_code, published.json["items"][0]["items"][0]["place"]) == (201, 1)
    assert ask(full, mine, "/entries/1/ruling", {"what": "disqualified", "why": "Painted."}).status_code == 200
    corrected = ask(full, mine, "/contests/1/lists", {"notice": "Number 1 was painted."}).json
    assert [one["number"] for one in corrected["items"]] == [1, 2]


def test_mistakes_in_rules_are_told_with_their_line(full: Site, with_token: WithToken) -> None:
    wrong = {"rules": "title: T\nrig: {most: lots}\n", "why": "x"}
    answer = ask(full, with_token(by="Cora Vale"), "/contests/1/rules", wrong)
    assert (answer.status_code, answer.json["problems"][0]["line"]) == (422, 2)


def test_an_attempt_is_entered_and_withdrawn(full: Site, with_token: WithToken) -> None:
    headers = with_token()
    assert ask(full, headers, "/attempts/1/entry", {}).status_code == 409
    gone = ask(full, headers, "/entries/1/withdraw", {"why": "broken"})
    assert gone.status_code == 409  # it was on the scale already
    full.hand_in(full.signed_in("Ben Holt"))
    full.work()
    entered = ask(full, headers, "/attempts/2/entry", {})
    assert (entered.status_code, entered.json["number"], entered.json["attempt_id"]) == (201, 2, 2)
    assert ask(full, headers, "/entries/2/withdraw", {}).json["withdrawn"] is True
