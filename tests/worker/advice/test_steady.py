"""What stops a mechanism: every promise is checked by solving the truss as told."""

from __future__ import annotations

import re

from rubric import library
from tests.worker.advice.test_steps import GIRDER
from worker.advice.steps import steps
from worker.analysis import Solved, analysis, solve
from worker.feedback import figures, view
from worker.truss.reader import read_truss

BRIEF = library.brief("footbridge").model_copy(update={"limits": library.brief("footbridge").limits.__class__()})
IN_LINE = """joints: {a: [0, 0], m: [300, 0], b: [600, 0], p: [150, 100], q: [450, 100], s: [300, 100]}
members:
  a-m: square5
  m-b: square5
  a-p: square5
  p-m: square5
  m-q: square5
  q-b: square5
  p-s: square5
  s-q: square5
  p-b: square3
"""
"""Members enough, one of them (p-b) where it holds what is held already; s lies on the line from p to q."""

DECK_IN_LINE = """joints: {a: [0, 0], m: [300, 0], b: [600, 0], p: [200, 60], q: [400, 60], t: [300, 180]}
members: {a-m: square5, m-b: square5, a-t: square5, t-b: square5, a-p: square5, b-q: square5, p-q: square5,
          p-t: square3, q-t: square3}
"""
"""The same with m, which must stay on the deck under the load."""


def of(text: str, advice: str = "what to try") -> Solved:
    brief = BRIEF.model_copy(update={"advice": advice})
    return solve(read_truss(text.encode(), brief), brief)


def test_where_the_form_is_critical_a_joint_is_moved_and_then_the_truss_stands() -> None:
    step = steps(of(IN_LINE))[0]
    assert step.title == "Move joint s to [300, 146] mm"
    assert step.text == (
        "Your truss has members enough. It moves because of its shape. "
        "We solved your truss again with this change. Then the truss cannot move any more."
    )
    assert of(IN_LINE.replace("s: [300, 100]", "s: [300, 146]")).stable


def test_the_place_advised_is_not_nearly_critical_again() -> None:
    place = re.search(r"\[.*\]", steps(of(IN_LINE))[0].title)[0]
    there = of(IN_LINE.replace("s: [300, 100]", f"s: {place}"))
    assert not any("nearly a mechanism" in said for said in there.solution.warnings)


def test_one_more_bar_stands_second_and_where_to_look_last() -> None:
    assert [step.title for step in steps(of(IN_LINE))][1:] == [
        "Add a member from joint m to joint s",
        "Look for three joints in one line",
    ]


def test_where_the_joint_must_stay_on_the_deck_a_bar_alone_is_advised() -> None:
    found = of(DECK_IN_LINE)
    assert (found.solution.form, found.solution.moving) == ("critical form", ("m",))
    assert [step.title for step in steps(found)] == [
        "Add a member from joint m to joint p",
        "Look for three joints in one line",
    ]


def test_a_move_that_would_break_a_limit_of_the_brief_is_not_advised() -> None:
    tight = BRIEF.model_copy(update={"limits": BRIEF.limits.model_copy(update={"depth_above_mm": 100.0})})
    found = solve(read_truss(IN_LINE.encode(), tight), tight)
    title = steps(found)[0].title
    assert title == "Move joint s to [300, 54] mm"


def test_a_truss_that_misses_a_bar_is_not_told_to_move_a_joint() -> None:
    missing = of(GIRDER.replace("  d-c: square5\n", ""))
    assert not any(step.title.startswith("Move") for step in steps(missing))
    assert steps(missing)[-1].title == "Look for the shape that is not a triangle"


def test_a_brief_that_says_only_where_to_look_gives_no_place() -> None:
    (look,) = steps(of(IN_LINE, "where to look"))
    assert look.title == "Look for three joints in one line"
    assert look.text.startswith("Joint s moves, though your truss has members enough. A joint on the line between")


def test_the_form_and_the_joints_of_each_way_reach_the_analysis() -> None:
    critical = analysis(of(IN_LINE))
    assert (critical.form, critical.missing_bars, critical.critical, critical.ways) == (
        "critical form",
        0,
        1,
        (("s",),),
    )
    two = analysis(of(GIRDER.replace("  d-c: square5\n", "").replace("  f-c: square5\n", "")))
    assert (two.form, two.missing_bars, two.critical) == ("missing bars", 2, 0)
    assert len(two.ways) == 2
    assert {joint for way in two.ways for joint in way} == set(two.moving)


def test_the_count_says_that_no_member_is_missing_where_the_form_is_critical() -> None:
    said = view.counting(analysis(of(IN_LINE)))
    assert "So the count alone looks fine. No member is missing: it moves because of its shape." in said
    assert said.endswith("Look for three joints in one line, or for members that all point to one place.")
    assert "Brace the part that moves" not in said


def test_the_drawing_of_several_movements_says_that_it_shows_the_first() -> None:
    two = analysis(of(GIRDER.replace("  d-c: square5\n", "").replace("  f-c: square5\n", "")))
    assert "It can move in 2 ways. This is the first." in figures.mechanism(two, BRIEF).svg
    assert "This is the first" not in figures.mechanism(analysis(of(IN_LINE)), BRIEF).svg
