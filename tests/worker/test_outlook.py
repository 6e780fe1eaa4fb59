"""Beyond the first failure, put together for one truss."""

from __future__ import annotations

import pytest

from rubric import library
from tests.worker.advice.test_steps import GIRDER
from worker.advice.findings import findings
from worker.analysis import Solved, analysis, solve
from worker.measures import measures
from worker.outlook import FAR, outlook, par_wood_g, whole_load_N
from worker.truss.reader import read_truss

BRIEF = library.brief("footbridge")
SOLVED = solve(read_truss(GIRDER.encode(), BRIEF), BRIEF)
FLAT = "joints: {a: [0, 0], b: [300, 0], c: [600, 0], d: [300, 4]}\nmembers: {a-b: square5, b-c: square5, a-d: square5, d-c: square5, b-d: square5}\n"


def flat() -> Solved:
    """Rafters that rise 4 mm over 300 mm: they snap through long before any of them buckles."""
    pinned = BRIEF.model_copy(update={"supports": BRIEF.supports.model_copy(update={"right": "pin"})})
    return solve(read_truss(FLAT.encode(), pinned), pinned)


def test_a_sound_girder_gives_way_as_a_whole_far_beyond_its_target() -> None:
    assert whole_load_N(SOLVED) is None
    assert measures(SOLVED, analysis(SOLVED, outlook(SOLVED, b"x")))["stability factor"] == FAR


def test_a_shallow_truss_fails_as_a_whole_where_that_comes_first() -> None:
    solved = flat()
    whole = whole_load_N(solved)
    found = analysis(solved, outlook(solved, b"x"))
    assert whole is not None
    assert whole < solved.strength.failure_load_N
    assert found.failure_load_N == whole
    assert findings(found, solved.brief)[0].title == "The whole truss"


def test_a_determinate_truss_keeps_nothing_after_its_first_failure() -> None:
    ahead = outlook(SOLVED, b"x")
    assert ahead is not None
    assert ahead.kept_after_first == 0
    assert ahead.peak_load_N == pytest.approx(SOLVED.strength.failure_load_N)


def test_the_scatter_comes_from_the_content_of_the_file_alone() -> None:
    one, again, other = (outlook(SOLVED, data) for data in (b"one", b"one", b"other"))
    assert one == again
    assert one.median_N != other.median_N
    assert one.median_N == pytest.approx(other.median_N, rel=0.05)
    assert one.low_N < one.median_N < one.high_N


def test_par_given_with_the_order_is_par_found_out_here() -> None:
    assert outlook(SOLVED, b"x", par_wood_g(BRIEF)) == outlook(SOLVED, b"x")


def test_no_bridge_is_better_than_par() -> None:
    found = analysis(SOLVED, outlook(SOLVED, b"x"))
    share = measures(SOLVED, found)["share of par"]
    assert share is not None
    assert 0.1 < share < 1


def test_a_mechanism_has_no_outlook() -> None:
    moving = solve(read_truss(GIRDER.replace("  d-c: square5\n", "").encode(), BRIEF), BRIEF)
    assert outlook(moving, b"x") is None
    assert findings(analysis(moving), BRIEF) == ()


def test_each_finding_is_said_with_its_numbers() -> None:
    found = analysis(SOLVED, outlook(SOLVED, b"x"))
    said = {finding.title: finding.text for finding in findings(found, BRIEF)}
    assert list(said) == ["How sure this is", "After the first break", "Cutting it", "How good it could be"]
    assert (
        said["Cutting it"]
        == "It can be cut from one kit: the whole bridge needs 1 of 6 sticks square3 and 4 of 14 sticks square5."
    )
    assert "No two sticks are alike." in said["How sure this is"]


def test_the_members_of_which_any_one_may_go_are_named() -> None:
    crossed = GIRDER.replace("  d-c: square5\n", "  d-c: square5\n  b-e: square3\n")
    solved = solve(read_truss(crossed.encode(), BRIEF), BRIEF)
    ahead = outlook(solved, b"x")
    assert ahead is not None
    assert set(ahead.redundant) == {"b-c", "d-e", "b-d", "e-c", "d-c", "b-e"}
    said = {finding.title: finding.text for finding in findings(analysis(solved, ahead), BRIEF)}
    assert "would also stand without any one of these:" in said["After the first break"]
    assert outlook(SOLVED, b"x").redundant == ()


def test_the_layout_cuts_each_member_once_for_each_side_and_says_what_is_left_over() -> None:
    ahead = outlook(SOLVED, b"x")
    assert ahead is not None
    for need in ahead.sticks:
        pieces = [name for stick in need.layout for name, _ in stick.pieces]
        own = [member.name for member in SOLVED.truss.members if member.stick == need.stick]
        assert sorted(pieces) == sorted(2 * own)
        assert len(need.layout) == need.needed
        assert all(pytest.approx(stick.left_mm + sum(mm for _, mm in stick.pieces)) == 900 for stick in need.layout)


def test_the_kerf_of_the_brief_is_taken_from_every_piece() -> None:
    sawn = BRIEF.model_copy(update={"kerf_mm": 4.0})
    ahead = outlook(solve(read_truss(GIRDER.encode(), sawn), sawn), b"x")
    assert ahead is not None
    for stick in (stick for need in ahead.sticks for stick in need.layout):
        used = sum(mm + 4 for _, mm in stick.pieces)
        assert used <= 904 + 1e-6  # nothing is lost behind the last piece
        assert stick.left_mm == pytest.approx(max(0.0, 900 - used))


def test_a_layout_that_nobody_could_follow_is_left_out() -> None:
    many = BRIEF.model_copy(update={"sides": 60})
    ahead = outlook(solve(read_truss(GIRDER.encode(), many), many), b"x")
    assert ahead is not None
    assert {need.stick: len(need.layout) > 0 for need in ahead.sticks} == {"square3": True, "square5": False}
