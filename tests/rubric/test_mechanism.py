"""Why a truss moves and in how many ways, in words."""

from __future__ import annotations

import pytest

from rubric.mechanism import lacks, ways
from rubric.messages.outcomes import Analysis

MOVING = Analysis(state="mechanism", joints=(), members=(), degree=0, mechanisms=1, mass_g=1.0)


def moving(**values: object) -> Analysis:
    return MOVING.model_copy(update=values)


@pytest.mark.parametrize(
    ("missing", "critical", "said"),
    [
        (1, 0, "1 member is missing."),
        (2, 0, "2 members are missing."),
        (0, 1, "No member is missing: it moves because of its shape. That is called a critical form. "
               "Moving a joint would stop it. Where a joint must stay, one more member would."),
        (1, 1, "1 member is missing. In one more way it moves because of its shape: moving a joint would stop that."),
        (2, 3, "2 members are missing. In 3 more ways it moves because of its shape: moving a joint would stop that."),
        (0, 0, ""),
    ],
)  # fmt: skip
def test_missing_members_and_a_critical_form_are_told_apart(missing: int, critical: int, said: str) -> None:
    assert lacks(moving(missing_bars=missing, critical=critical)) == said


def test_each_way_to_move_names_its_joints() -> None:
    assert ways(moving(mechanisms=2, ways=(("c", "d"), ("e",)))) == (
        "It can move in 2 ways, and the drawing shows the first. "
        "In the first, joints c and d move. In the second, joint e moves."
    )


def test_of_many_ways_three_are_told_and_of_many_joints_six() -> None:
    said = ways(moving(mechanisms=5, ways=(("a",), tuple("bcdefghi"), ("j", "k"))))
    assert said.startswith("It can move in 5 ways")
    assert "In the second, joints b, c, d, e, f, g and 2 more move. In the third, joints j and k move." in said


def test_a_joint_that_moves_both_ways_is_not_told_twice_in_the_same_words() -> None:
    assert ways(moving(mechanisms=2, ways=(("s",), ("s",)))).endswith(
        "In the first, joint s moves. In the second, the same joint moves another way."
    )
    assert "the same joints move another way" in ways(moving(mechanisms=2, ways=(("s", "t"), ("s", "t"))))


def test_one_way_to_move_and_an_outcome_from_before_need_no_list() -> None:
    assert ways(moving(mechanisms=1, ways=(("s",),))) == ways(moving(mechanisms=2)) == ""
