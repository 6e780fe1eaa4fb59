"""Ranks by efficiency."""

from __future__ import annotations

from rubric.ranking import ranks


def test_who_sees_the_same_number_has_the_same_rank_and_the_next_is_left_out() -> None:
    assert ranks([646.4, 712.04, 646.41, 100.0]) == [2, 1, 2, 4]


def test_nobody_on_the_board_is_nobody_ranked() -> None:
    assert ranks([]) == []
