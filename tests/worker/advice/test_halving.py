"""A brace at the middle of a strut: what is written does what is promised."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from rubric import library
from rubric.brief import Brief
from service.demo.bridges import as_yaml, girder
from tests.worker.advice.test_steps import BRIEF, GIRDER, solved
from worker.advice.halving import halved
from worker.advice.steps import steps
from worker.analysis import Solved, solve
from worker.truss.reader import read_truss

STRONG = re.sub(r"(a-d|d-e|e-f|f-h): square5", r"\1: square5 x2", GIRDER)
"""The girder with doubled top and ends: then a-d and f-h buckle first, in the plane of the truss."""


def of(text: str, brief: Brief = BRIEF) -> Solved:
    return solve(read_truss(text.encode(), brief), brief)


def buckling(now: Solved, name: str) -> Solved:
    """As if this member were the first to fail, by buckling in the plane."""
    check = next(check for check in now.strength.checks if check.member.name == name)
    return replace(now, strength=replace(now.strength, first=replace(check, mode="buckling", axis="in plane")))


def as_told(text: str, title: str, stick: str, halves: str) -> str:
    """The file changed as a title says, and by nothing else."""
    joints, swaps, bars = title.split("; ")
    for name, place in re.findall(r"(m\d+) at (\[.*?\])", joints):
        text = text.replace("joints: {", f"joints: {{{name}: {place}, ")
    for strut, one, other in re.findall(r"(\w+-\w+) by (\w+-\w+) and (\w+-\w+)", swaps):
        text = re.sub(rf"  {strut}: .*\n", f"  {one}: {halves}\n  {other}: {halves}\n", text)
    return text + "".join(f"  {bar}: {stick}\n" for bar in re.findall(r"\w+-\w+", bars))


def test_a_symmetrical_pair_of_struts_is_braced_on_both_sides_as_the_title_says() -> None:
    (change,) = halved(of(STRONG))
    assert change.title == (
        "Add joints m1 at [75, 60] mm and m2 at [525, 60] mm; "
        "replace a-d by a-m1 and m1-d, and f-h by f-m2 and m2-h; add members m1-b and m2-g"
    )
    assert change.why == (
        "Struts a-d and f-h buckle first. A bar at its middle halves the free length of each. "
        "Cut m1-b and m2-g from 'square3'; the halves stay 'square5 x2'."
    )


@pytest.mark.parametrize(("text", "halves"), [(GIRDER, "square5"), (STRONG, "square5 x2")])
def test_the_file_written_as_the_title_says_carries_what_was_promised(text: str, halves: str) -> None:
    (change,) = halved(of(text))
    promised, handed_in = solve(change.truss, BRIEF), of(as_told(text, change.title, "square3", halves))
    assert handed_in.solution.state == promised.solution.state == "stable"
    assert handed_in.strength.failure_load_N == pytest.approx(promised.strength.failure_load_N, rel=1e-9)
    assert handed_in.strength.mass_g == pytest.approx(promised.strength.mass_g, rel=1e-9)
    assert promised.strength.failure_load_N > of(text).strength.failure_load_N


def test_the_strut_at_half_its_length_has_half_the_slenderness_and_the_brace_carries_nothing() -> None:
    (change,) = halved(of(STRONG))
    after = solve(change.truss, BRIEF)
    checks = {check.member.name: check for check in after.strength.checks}
    whole = next(check for check in of(STRONG).strength.checks if check.member.name == "a-d")
    assert checks["a-m1"].force_N == checks["m1-d"].force_N == pytest.approx(whole.force_N)
    assert checks["a-m1"].capacity_N > 1.3 * whole.capacity_N
    assert checks["m1-b"].force_N == pytest.approx(0, abs=1e-9)


def test_a_truss_that_is_not_symmetrical_is_braced_on_one_side() -> None:
    (change,) = halved(of(STRONG.replace("f: [450, 120]", "f: [430, 110]")))
    assert re.match(r"Add joint m1 at \[.*?\] mm; replace \S+ by \S+ and \S+; add member m1-\w$", change.title)
    assert "buckles first. A bar at its middle halves its free length." in change.why


def test_a_strut_that_buckles_out_of_the_plane_gets_no_brace_in_it() -> None:
    far = BRIEF.model_copy(update={"bracing_mm": 600.0})
    assert of(STRONG, far).strength.first.axis == "out of plane"
    assert list(halved(of(STRONG, far))) == []
    near = BRIEF.model_copy(update={"bracing_mm": 20.0})
    assert of(STRONG, near).strength.first.axis == "in plane"
    assert len(list(halved(of(STRONG, near)))) == 1


def test_a_strut_along_the_deck_and_a_tie_are_left_alone() -> None:
    now = of(STRONG)
    assert list(halved(buckling(now, "b-c"))) == []
    pulled = replace(buckling(now, "d-c").strength.first, mode="tension")
    assert list(halved(replace(now, strength=replace(now.strength, first=pulled)))) == []


def test_the_brace_runs_across_no_other_member() -> None:
    """Under the middle of d-e the diagonal d-c: a bar to b would cross it, so it runs to c."""
    (change,) = halved(buckling(of(STRONG), "d-e"))
    assert change.title.endswith("replace d-e by d-m1 and m1-e, and e-f by e-m2 and m2-f; add members m1-c and m2-c")


def test_two_struts_that_cross_at_their_middles_are_left_alone() -> None:
    text = "joints: {a: [0, 0], b: [300, 0], c: [600, 0], p: [0, 150], q: [600, 150]}\nmembers:\n"
    bars = ("a-b", "b-c", "a-p", "p-q", "c-q", "a-q", "c-p", "b-p", "b-q")
    box = of(text + "".join(f"  {bar}: square5\n" for bar in bars))
    assert list(halved(buckling(box, "a-q"))) == []
    assert len(list(halved(buckling(box, "b-q")))) == 1


def test_a_name_that_is_taken_is_not_given_again_and_a_file_in_centimetres_is_told_centimetres() -> None:
    cm = re.sub(r"(\d+), (\d+)\]", lambda m: f"{int(m[1]) / 10:g}, {int(m[2]) / 10:g}]", STRONG)
    cm = cm.replace("title: Girder", "title: Girder\nunits: cm")
    cm = re.sub(r"\bg\b", "m1", cm)
    (change,) = halved(of(cm))
    assert change.title.startswith("Add joints m2 at [7.5, 6] cm and m3 at [52.5, 6] cm; replace a-d by a-m2 and m2-d")


def test_it_stands_among_the_next_steps_with_its_effect() -> None:
    step = next(step for step in steps(solved(STRONG)) if step.title.startswith("Add joint"))
    assert "A bar at its middle halves the free length of each. Cut m1-b and m2-g from 'square3';" in step.text
    assert "We solved your truss again with this change. The bridge would carry" in step.text


def test_a_brief_that_allows_no_more_joints_gets_no_brace() -> None:
    few = BRIEF.model_copy(update={"limits": BRIEF.limits.model_copy(update={"joints": 8})})
    assert not any(step.title.startswith("Add joint") for step in steps(of(STRONG, few)))


def test_a_brace_no_longer_than_the_brief_allows_is_sought() -> None:
    limits = BRIEF.limits.model_copy(update={"longest_member_mm": 60.0})
    assert list(halved(of(STRONG, BRIEF.model_copy(update={"limits": limits})))) == []


@pytest.mark.parametrize("panels", [4, 6, 8, 10])
def test_girders_of_any_panels_stay_stable_and_no_more_redundant(panels: int) -> None:
    market = library.brief("market-bridge")
    sticks = {"bottom": "square4", "top": "square4 x2", "vertical": "square4", "diagonal": "square4"}
    now = of(as_yaml(girder("Market", 800, panels, 150, **sticks)), market)
    for change in halved(now):
        after = solve(change.truss, market)
        assert (after.solution.state, after.solution.degree) == ("stable", now.solution.degree)
        assert after.strength.failure_load_N > now.strength.failure_load_N
