"""Attempts: how many, which counts, how long to wait."""

from __future__ import annotations

import pytest

from rubric.rules.attempts import Attempts


@pytest.mark.parametrize(("counts", "place"), [("best", 1), ("last", 3), ("first", 0)])
def test_the_attempt_that_counts_is_the_one_the_teacher_says(counts: str, place: int) -> None:
    rule = Attempts.model_validate({"counts": counts})
    assert rule.counting([40, 62, 62, 55]) == place
    assert rule.counting([]) is None


def test_attempts_run_out_where_there_is_an_end() -> None:
    rule = Attempts.model_validate({"most": "5", "wait": "1 h"})
    assert [rule.left(used) for used in (0, 4, 5, 7)] == [5, 1, 0, 0]
    assert rule.left(5, given=2) == 2
    assert Attempts().left(100, given=2) is None
    said = "You have 5 attempts: the best one counts. Wait 1 hour before you hand in again."
    assert rule.rule() == f"{said} A file with mistakes is no attempt."
    assert Attempts().rule() == "You may hand in as often as you like: the best one counts."
