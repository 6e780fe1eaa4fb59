"""Entry conditions: zero, a cap, or off the board."""

from __future__ import annotations

import pytest

from rubric.criteria.common import Judged
from rubric.evidence import Evidence
from rubric.marking import Marks, mark
from tests.rubric.criteria.made import marks, rubric


def entered(if_not: str, mass: float | None = 90.0) -> Marks:
    head = f"entry: [{{measure: mass, at most: 80 g, if not: {if_not}}}]\n"
    return marks(rubric("threshold", "measure: reserve factor, at least: 1", head), reserve_factor=1.0, mass=mass)


@pytest.mark.parametrize(
    ("if_not", "total", "on_board", "said"),
    [("zero", 0, False, "Minus 20 points: no points count, because the mass is 90 g, and at most 80 g was asked."),
     ("cap at 12.5 points", 12.5, True, "Minus 7.5 points: no more than 12.5 points count, because the mass is 90 g, "
      "and at most 80 g was asked."),
     ("off the board", 20, False, "Not on the leaderboard, because the mass is 90 g, and at most 80 g was asked.")],
)  # fmt: skip
def test_what_happens_where_a_condition_does_not_hold(if_not: str, total: float, on_board: bool, said: str) -> None:
    found = entered(if_not)
    assert (found.total, found.on_board, found.rules) == (total, on_board, (said,))
    assert found.criteria[0].points == 20


def test_a_condition_that_holds_is_not_spoken_of() -> None:
    found = entered("zero", mass=80.0)
    assert (found.total, found.on_board, found.rules) == (20, True, ())


def test_a_measure_that_is_not_there_is_a_condition_not_met() -> None:
    found = entered("cap at 5 points", mass=None)
    assert found.rules == ("Minus 15 points: no more than 5 points count, because there is no mass to look at.",)


def test_a_file_with_mistakes_is_kept_from_points_that_a_teacher_gave() -> None:
    made = rubric("judgement", "look for: x", "entry: [{measure: mechanisms, at most: 0, if not: zero}]\n")
    assert mark(made, Evidence()).rules == ()
    found = mark(made, Evidence(), {"It": Judged(points=15)})
    assert (found.total, found.on_board) == (0, False)
    assert found.rules == ("Minus 15 points: no points count, because the file holds mistakes.",)


def test_a_rubric_says_its_conditions_beforehand() -> None:
    said = [entry.rule() for entry in rubric("count", "of: joints, at most: 9", "entry:\n" + "".join(
        f"  - {{measure: mass, at most: 80 g, if not: {word}}}\n" for word in ("zero", "off the board", "cap at 5 points")
    )).entry]  # fmt: skip
    assert said == [
        "A bridge earns points only if the mass is at most 80 g.",
        "A bridge stands on the leaderboard only if the mass is at most 80 g.",
        "A bridge earns over 5 points only if the mass is at most 80 g.",
    ]
