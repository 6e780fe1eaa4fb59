"""Bonus, deduction, weights, rounding and bounds."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.evidence import Evidence
from rubric.marking import Marks, mark
from rubric.rubrics import read_rubric
from rubric.rules.total import nearest
from tests.rubric.criteria.made import STABLE


def marked(keys: str, mass: float = 60.0, head: str = "") -> Marks:
    other = "{name: b, kind: scale, measure: efficiency, earns: {0: 0, 100: 10}, points: 10}"
    one = f"{{name: a, kind: threshold, measure: mass, at most: 60 g, points: 5, {keys}}}"
    made = read_rubric(f"title: T\n{head}criteria:\n  - {other}\n  - {one}\n".encode())
    return mark(made, Evidence(measures={**STABLE, "efficiency": 72.5, "mass": mass}))


def test_a_bonus_comes_on_top() -> None:
    found = marked("bonus: yes")
    assert (found.total, found.out_of, found.criteria[1].of) == (12.25, 10, "of 5 (bonus)")
    assert marked("bonus: yes", 61).total == 7.25
    assert marked("bonus: yes", 61).criteria[1].earn_more == "Bring down the mass to 60 g to earn 5 bonus points."


def test_a_deduction_takes_away_what_it_does_not_earn() -> None:
    assert (marked("deduct: yes").total, marked("deduct: yes").out_of) == (7.25, 10)
    found = marked("deduct: yes", 61)
    assert (found.total, found.criteria[1].points, found.criteria[1].of) == (2.25, -5, "(deduction)")
    assert found.criteria[1].earn_more == "Bring down the mass to 60 g to lose no points here."


def test_a_file_with_mistakes_has_nothing_deducted() -> None:
    made = read_rubric(b"title: T\ncriteria:\n  - {name: a, kind: count, of: joints, at most: 9, points: 5}\n"
                       b"  - {name: b, kind: count, of: members, at most: 9, points: 5, deduct: yes}\n")  # fmt: skip
    found = mark(made, Evidence())
    assert (found.total, found.criteria[1].points, found.rules) == (0, 0, ())
    assert found.criteria[1].earn_more == "Mend the mistakes in the file first."


@pytest.mark.parametrize(
    ("head", "total", "said"),
    [("round to: 0.5\n", 7.5, "Plus 0.25 points: rounded to the nearest 0.5."),
     ("round to: 1\n", 7, "Minus 0.25 points: rounded to whole points."),
     ("most: 6\n", 6, "Minus 1.25 points: a mark is never above 6."),
     ("least: 8\n", 8, "Plus 0.75 points: a mark is never below 8.")],
)  # fmt: skip
def test_rounding_and_bounds_say_what_they_did(head: str, total: float, said: str) -> None:
    found = marked("bonus: yes", 61, head)
    assert (found.total, found.rules) == (total, (said,))


def test_a_half_is_rounded_up_as_in_school_and_never_beyond_all_there_is() -> None:
    assert [nearest(value, 1) for value in (0.5, 1.5, 2.5, 2.49)] == [1, 2, 3, 2]
    assert [nearest(value, 0.1) for value in (0.25, 0.35)] == [0.3, 0.4]
    assert marked("deduct: yes", 60, "round to: 4\n").total == 8
    kept = marked("deduct: yes", 60, "round to: 8\nmost: 7.5\n")
    assert (kept.total, kept.rules) == (7.25, ())


WEIGHED = """title: T
out of: 100
criteria:
  - {name: a, kind: threshold, measure: mass, at most: 60 g, points: 40}
  - {name: b, kind: scale, measure: efficiency, earns: {0: 0 %, 100: 100 %}, weight: 2}
  - {name: c, kind: count, of: joints, at most: 9, each takes: 50 %, weight: 1}
"""


def test_weights_share_what_the_points_leave() -> None:
    made = read_rubric(WEIGHED.encode())
    assert [criterion.points for criterion in made.criteria] == [40, 40, 20]
    found = mark(made, Evidence(measures={**STABLE, "mass": 50.0, "efficiency": 50.0, "joints": 10.0}))
    assert [criterion.points for criterion in found.criteria] == [40, 20, 10]


@given(st.lists(st.integers(1, 1000), min_size=1, max_size=12), st.integers(10, 100_000))
def test_weights_share_every_point(weights: list[int], cents: int) -> None:
    if min(weights) / sum(weights) * cents < 2:
        return
    lines = [f"  - {{name: n{i}, kind: count, of: joints, at most: 9, weight: {w}}}" for i, w in enumerate(weights)]
    made = read_rubric("\n".join([f"title: T\nout of: {cents / 100}\ncriteria:", *lines]).encode())
    assert made.full == cents / 100
