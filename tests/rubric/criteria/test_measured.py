"""Share of par, counts, and what a stable truss lacks."""

from __future__ import annotations

import pytest

from tests.rubric.criteria.made import first, marks, rubric

PAR = rubric("share of par", "none at: 10 %, full at: 60 %")


@pytest.mark.parametrize(("share", "earned"), [(0.05, 0), (0.1, 0), (0.35, 10), (0.6, 20), (0.8, 20)])
def test_points_for_a_share_of_par_rise_in_a_straight_line(share: float, earned: float) -> None:
    assert first(PAR, share_of_par=share).points == earned


def test_a_share_of_par_says_how_far_it_is() -> None:
    found = first(PAR, share_of_par=0.35)
    assert (found.seen, found.asked) == ("the share of par is 35 %", "10 % of par earns 0; 60 % of par earns 20")
    assert found.earn_more == "Raise the share of par to 60 % to earn all 20 points."


COUNTS = [
    ("at most: 12", 12, 20, "That is what was asked."),
    ("at most: 12", 9, 20, "That is what was asked."),
    ("at most: 12", 13, 0, "That is 1 too many."),
    ("at most: 12, each takes: 2", 14, 16, "That is 2 too many."),
    ("at most: 12, each takes: 10 %", 40, 0, "That is 28 too many."),
    ("exactly: 12, each takes: 5", 10, 10, "That is 2 too few."),
    ("exactly: 12", 12, 20, "That is what was asked."),
]


@pytest.mark.parametrize(("asked", "joints", "earned", "why"), COUNTS)
def test_a_count_loses_for_each_one_off(asked: str, joints: float, earned: float, why: str) -> None:
    found = first(rubric("count", f"of: joints, {asked}"), joints=float(joints))
    assert (found.points, found.why) == (earned, why)


def test_a_count_says_what_each_one_takes() -> None:
    found = first(rubric("count", "of: distinct lengths, at most: 4, each takes: 2"), distinct_lengths=6.0)
    assert (found.seen, found.asked) == (
        "the number of distinct lengths is 6",
        "at most 4; each one more takes 2 points",
    )
    assert found.earn_more == "Bring down the number of distinct lengths to 4 to earn all 20 points."


def test_a_measure_that_was_not_worked_out_for_a_stable_truss_is_left_to_the_teacher() -> None:
    found = marks(PAR)
    assert (found.criteria[0].points, found.waiting, found.total) == (None, 20, 0)
    assert found.criteria[0].why == "It could not be worked out for this truss, so your teacher decides."
