"""Next steps: each promise is checked by solving the changed truss here, independently."""

from __future__ import annotations

import re

import pytest

from rubric import library
from rubric.wording import amount
from worker.advice.bracing import brace
from worker.advice.changes import left_out, lighter, reshaped, stronger_together, thicker
from worker.advice.steps import steps
from worker.analysis import Solved, solve
from worker.statics import solve as statics
from worker.truss.reader import read_truss

BRIEF = library.brief("footbridge")
GIRDER = """title: Girder
joints: {a: [0, 0], b: [150, 0], c: [300, 0], g: [450, 0], h: [600, 0], d: [150, 120], e: [300, 120], f: [450, 120]}
members:
  a-b: square5
  b-c: square5
  c-g: square5
  g-h: square5
  a-d: square5
  d-e: square5
  e-f: square5
  f-h: square5
  b-d: square3
  e-c: square3
  f-g: square3
  d-c: square5
  f-c: square5
"""


def solved(text: str = GIRDER) -> Solved:
    return solve(read_truss(text.encode(), BRIEF), BRIEF)


def test_the_effect_promised_is_the_effect_of_handing_the_change_in() -> None:
    step = next(step for step in steps(solved()) if step.title.startswith("Make the members stronger"))
    named = re.findall(r"\w-\w", step.title)
    stronger = re.sub(rf"({'|'.join(named)}): square5", r"\1: square5 x2", GIRDER)
    then = solved(stronger).strength
    assert f"would carry {amount(then.failure_load_N, 'N')}, not" in step.text
    assert f"efficiency would be {then.efficiency:.0f}" in step.text


def test_what_stays_the_same_is_said_to() -> None:
    saving = re.sub(r"(a-d|d-e|e-f|f-h): square5", r"\1: square5 x2", GIRDER)
    step = next(step for step in steps(solved(saving)) if step.title.startswith("Save wood"))
    assert "The bridge would carry 237 N, as before. Its mass would be 33.9 g, not 37.3 g." in step.text


def test_there_are_at_most_three_steps_of_different_kinds() -> None:
    titles = [step.title for step in steps(solved())]
    assert 2 <= len(titles) <= 3
    assert len(set(titles)) == len(titles)


def test_one_strut_alone_changes_nothing_where_its_twin_fails_too() -> None:
    before = solved().strength.failure_load_N
    for change in thicker(solved()):
        assert solve(change.truss, BRIEF).strength.failure_load_N == pytest.approx(before)
    (together,) = stronger_together(solved())
    assert solve(together.truss, BRIEF).strength.failure_load_N > 1.2 * before


def test_saving_wood_never_makes_the_truss_weaker() -> None:
    before = solved().strength
    for change in lighter(solved()):
        after = solve(change.truss, BRIEF).strength
        assert after.mass_g < before.mass_g
        assert after.failure_load_N >= before.failure_load_N * (1 - 1e-9)


def test_a_deeper_truss_stays_within_the_depth_the_brief_allows() -> None:
    for change in reshaped(solved(GIRDER.replace("120]", "170]"))):
        assert max(y for _, y in change.truss.joints.values()) <= 180 + 1e-9


def test_a_member_that_carries_nothing_but_holds_a_joint_is_not_advised_away() -> None:
    assert [check.member.name for check in solved().strength.checks if not check.utilisation]
    assert list(left_out(solved())) == []
    assert not any("Leave out" in step.title for step in steps(solved()))


def test_of_a_redundant_truss_each_idle_member_is_tried_without() -> None:
    titles = [change.title for change in left_out(solved(GIRDER + "  a-e: square3\n"))]
    assert titles == [f"Leave out member {name}, which carries next to nothing" for name in ("b-d", "f-g")]


def test_a_broken_limit_comes_first() -> None:
    first = steps(solved(GIRDER.replace("120]", "190]")))[0]
    assert first.title == "Keep the limits of the brief"
    assert first.text.startswith("The highest joint is 190 mm above the deck; the brief allows 180 mm.")


def test_the_bar_advised_for_a_mechanism_stops_it() -> None:
    moving = read_truss(GIRDER.replace("  d-c: square5\n", "").encode(), BRIEF)
    bar = brace(moving, BRIEF)
    assert bar is not None
    text = GIRDER.replace("  d-c: square5\n", f"  {bar.name}: {bar.stick}\n")
    assert statics(read_truss(text.encode(), BRIEF)).state == "stable"


def test_no_bar_is_advised_for_a_stable_truss() -> None:
    assert brace(solved().truss, BRIEF) is None


def test_two_missing_bars_are_said_to_be_two() -> None:
    text = GIRDER.replace("  d-c: square5\n", "").replace("  f-c: square5\n", "")
    assert "1 way to move is left" in steps(solved(text))[0].text


def test_the_brief_says_how_far_advice_goes() -> None:
    def titles(text: str, advice: str) -> list[str]:
        brief = BRIEF.model_copy(update={"advice": advice})
        return [step.title for step in steps(solve(read_truss(text.encode(), brief), brief))]

    moving = GIRDER.replace("  d-c: square5\n", "")
    assert titles(GIRDER, "none") == titles(moving, "none") == []
    assert all(title.startswith("Think about member") for title in titles(GIRDER, "where to look"))
    assert titles(moving, "where to look") == ["Look for the shape that is not a triangle"]
    assert titles(moving, "what to try")[0].startswith("Add a member")
