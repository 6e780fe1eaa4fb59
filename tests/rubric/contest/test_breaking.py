"""How a bridge broke: the ways that are noted, and what they say of a prediction."""

from __future__ import annotations

from rubric.contest.breaking import AXIS_OF, MODE_OF, WAYS, at_the_place, how_said, joints_of, place_said
from rubric.contest.factor import STRENGTH_OF


def test_there_are_no_more_ways_than_digits_to_choose_them() -> None:
    assert len(WAYS) <= 9


def test_each_mode_that_is_predicted_can_be_noted() -> None:
    assert set(STRENGTH_OF) == set(MODE_OF.values()) - {""}
    assert set(WAYS) - set(MODE_OF) == {"did not break", "not seen"}
    assert {MODE_OF[way] for way in AXIS_OF} == {"buckling"}


def test_a_reading_without_a_way_says_that_it_is_not_noted() -> None:
    assert how_said("") == "not noted"
    assert how_said("crushed") == "a stick was crushed"


def test_a_place_is_a_member_a_joint_or_an_older_phrase() -> None:
    assert [place_said(one) for one in ("a-b", "a", "a glued joint", "")] == ["a-b", "joint a", "a glued joint", ""]


def test_a_joint_of_the_predicted_member_is_the_predicted_place() -> None:
    assert [at_the_place(where, "a-b") for where in ("a-b", "b", "c", "")] == [True, True, False, False]
    assert joints_of(["a-b", "b-c", "a-c"]) == ["a", "b", "c"]
