"""How many attempts there are, when the next may come, which counts, and what lateness costs."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.rules.lateness import Lateness
from service.classes.attempts_left import late_said
from service.records.models import NOT_MARKED, Assignment, Submission, now
from tests.service.site import GIRDER, HEAVY_GIRDER, MECHANISM, MISTAKEN, Site, post

DUE = datetime(2027, 3, 15, 16)
BY_DAY = Lateness.model_validate({"grace": "10 min", "per day": "10 %", "most": "30 %"})
BY_HOUR = Lateness.model_validate({"per hour": "2 points", "most": "6 points"})


def refused(site: Site, text: bytes = GIRDER) -> str:
    answer = post(site.signed_in("Ada Fern"), f"/assignments/{site.assignment}/attempts", text=text.decode())
    assert answer.status_code == 422, answer.status_code
    return answer.text


def own_page(site: Site) -> str:
    return site.signed_in("Ada Fern").get(f"/assignments/{site.assignment}").text


def all_in(site: Site, *texts: bytes, name: str = "Ada Fern", wait_min: float = 0) -> None:
    for text in texts:
        site.hand_in(site.signed_in(name), text)
        site.work()
        with site.records.write() as session:
            for one in session.query(Submission):
                one.handed_in -= timedelta(minutes=wait_min)


def test_a_file_beyond_the_last_attempt_is_not_taken(site: Site) -> None:
    site.ask(attempts={"most": 2})
    all_in(site, GIRDER)
    assert "You have used 1 of 2 attempts." in own_page(site)
    all_in(site, MECHANISM)
    page = refused(site, HEAVY_GIRDER)
    assert "You have used all 2 attempts. Nothing was saved of this file." in page
    assert "<textarea" not in page
    with site.records.read() as session:
        assert session.query(Submission).count() == 2


def test_a_file_with_mistakes_or_one_that_could_not_be_marked_is_no_attempt(site: Site) -> None:
    site.ask(attempts={"most": 1, "wait": "60 min"})
    all_in(site, MISTAKEN, MISTAKEN + b"# again")
    assert "You have used 0 of 1 attempt." in own_page(site)
    all_in(site, GIRDER)
    with site.records.write() as session:
        session.query(Submission).filter_by(number=3).one().state = NOT_MARKED
    all_in(site, HEAVY_GIRDER)
    assert "You have used all 1 attempt." in own_page(site)


def test_who_comes_back_too_soon_is_told_when_the_next_may_come(site: Site) -> None:
    site.ask(attempts={"wait": "30 min"})
    all_in(site, GIRDER)
    said = "You can hand in again on"
    assert said in own_page(site)
    page = refused(site, HEAVY_GIRDER)
    assert f"Take your time between two attempts. Nothing was saved of this file. {said}" in page
    with site.records.write() as session:
        session.query(Submission).one().handed_in = now() - timedelta(minutes=31)
    assert said not in own_page(site)
    all_in(site, HEAVY_GIRDER)


def test_the_rules_stand_on_the_page_before_anything_is_handed_in(site: Site) -> None:
    site.ask(
        attempts={"most": 3, "counts": "last", "wait": "10 min"},
        lateness={"per day": "10 %", "most": "30 %", "grace": "5 min"},
    )
    page = own_page(site)
    assert "You have 3 attempts: the last one counts. Wait 10 minutes before you hand in again." in page
    assert "A file with mistakes is no attempt." in page
    assert "each day begun costs 10 % of your points, 30 % at most" in page


@pytest.mark.parametrize(
    ("counts", "number", "points", "on_board"),
    [("best", "1", "90.0", "646.4"), ("last", "3", "15.0", ""), ("first", "1", "90.0", "646.4")],
)
def test_the_attempt_that_counts_is_used_in_table_spreadsheet_and_board(
    site: Site, counts: str, number: str, points: str, on_board: str
) -> None:
    site.ask(attempts={"counts": counts})
    all_in(site, GIRDER, HEAVY_GIRDER, MECHANISM, MISTAKEN)
    teacher = site.signed_in("Tess Birch")
    line = teacher.get(f"/staff/assignments/{site.assignment}/marks.csv").text.splitlines()[1].split(",")
    assert (line[3], line[4], line[10]) == (number, points, on_board)
    assert f"Points are those of the {counts} attempt." in teacher.get(f"/staff/assignments/{site.assignment}").text
    board = teacher.get(f"/boards/assignments/{site.assignment}").text
    assert ("646.4" in board) == bool(on_board)
    assert f"Each student's {counts} truss counts" in board


def test_lateness_takes_its_points_and_says_so(site: Site) -> None:
    site.ask(lateness={"per day": "10 %", "most": "30 %"})
    with site.records.write() as session:
        given = session.get_one(Assignment, site.assignment)
        given.due = given.newest.due = now() - timedelta(hours=30)
    assert "Handed in now, your work is 1 day 6 hours late and loses 20 % of its points." in own_page(site)
    all_in(site, GIRDER)
    page = site.signed_in("Ada Fern").get("/attempts/1").text
    assert "72 of 100 points" in page
    assert "Minus 18 points: handed in 1 day 6 hours late. Each day begun costs 10 %" in page


@pytest.mark.parametrize(
    ("rule", "late_min", "said"),
    [
        (BY_DAY, -1, ""),
        (BY_DAY, 9, "Handed in now, your work is 9 minutes late. That costs nothing yet."),
        (BY_DAY, 11, "Handed in now, your work is 11 minutes late and loses 10 % of its points."),
        (BY_DAY, 99_999, "Handed in now, your work is 69 days 10 hours late and loses 30 % of its points."),
        (BY_HOUR, 61, "Handed in now, your work is 1 hour 1 minute late and loses 4 points."),
        (None, 61, "Handed in now, your work is 1 hour 1 minute late. Your teacher sees that."),
    ],
)
def test_what_lateness_would_cost_now_is_said_in_words(rule: Lateness | None, late_min: float, said: str) -> None:
    assert late_said(rule, DUE, DUE + timedelta(minutes=late_min)) == said


@given(st.floats(0.1, 1e5), st.floats(0, 1e5))
def test_later_work_never_loses_less(minutes: float, more: float) -> None:
    assert BY_DAY.cost(minutes + more, 80) >= BY_DAY.cost(minutes, 80)
