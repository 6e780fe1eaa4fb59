"""What programs learn of a class's work as a whole, and texts that they have checked."""

from __future__ import annotations

import pytest

from rubric import library
from service.api.tokens import READ_MARKS, RUN_CONTESTS, SET_WORK
from service.records.models import Version
from tests.service.api.conftest import WithToken
from tests.service.api.test_work import ask
from tests.service.site import MECHANISM, Site

pytestmark = pytest.mark.usefixtures("unbounded")


def test_what_a_class_shows_is_counted_and_names_nobody(full: Site, with_token: WithToken) -> None:
    full.hand_in(full.signed_in("Ben Holt"), MECHANISM)
    full.work()
    found = ask(full, with_token(READ_MARKS), "/assignments/1/insight")
    standing = found.json["standing"]
    assert (found.json["students"], standing["works"], standing["moving"]) == (2, 2, 1)
    assert all(sum(one["bands"]) + one["waiting"] == 2 for one in found.json["criteria"])
    assert "Fern" not in found.text


def test_a_brief_and_a_rubric_are_checked_and_not_kept(full: Site, with_token: WithToken) -> None:
    headers = with_token(SET_WORK)
    brief, rubric = (one.decode() for one in (library.brief_text("footbridge"), library.rubric_text("footbridge")))
    assert ask(full, headers, "/check", {"brief": brief, "rubric": rubric}).json["problems"] == []
    wrong = {"brief": brief.replace("span: 600 mm", "span: wide"), "rubric": "title: x\n"}
    assert {one["file"] for one in ask(full, headers, "/check", wrong).json["problems"]} == {"brief", "rubric"}
    with full.records.read() as session:
        assert session.query(Version).count() == 2


def test_rules_of_a_contest_are_checked_and_not_kept(full: Site, with_token: WithToken) -> None:
    headers = with_token(RUN_CONTESTS, "read class")
    assert ask(full, headers, "/check-rules", {"rules": "title: T\nrig: {most: 400 N}\n"}).json["problems"] == []
    (problem,) = ask(full, headers, "/check-rules", {"rules": "title: T\nrig: {most: lots}\n"}).json["problems"]
    assert (problem["file"], problem["line"]) == ("rules", 2)
    assert ask(full, headers, "/contests/1").json["rules_version"] == 1


def test_predicted_and_measured_loads_of_a_contest_are_read_bridge_by_bridge(full: Site, with_token: WithToken) -> None:
    headers = with_token(RUN_CONTESTS)
    none = ask(full, headers, "/contests/1/prediction").json
    assert (none["items"], none["factor"], none["proposals"]) == ([], None, [])
    load = {"number": 1, "value": 180.5, "unit": "N", "sure": True, "broke": "a", "how": "joint came off"}
    assert ask(full, headers, "/stations/2/readings", load, key="a").status_code == 201
    found = ask(full, headers, "/contests/1/prediction")
    (one,) = found.json["items"]
    (place,) = ask(full, headers, "/contests/1/list").json["items"]
    assert (one["number"], one["measured_N"]) == (1, place["load N"])
    assert (one["broke"], one["how"], one["mode"], one["as_predicted"]) == ("a", "joint came off", "buckling", False)
    assert one["predicted_N"] > 0
    assert "Fern" not in found.text
