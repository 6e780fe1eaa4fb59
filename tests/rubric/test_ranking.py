"""Ranks by efficiency."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from rubric.ranking import places, ranks


def test_who_sees_the_same_number_has_the_same_rank_and_the_next_is_left_out() -> None:
    assert ranks([646.4, 712.04, 646.41, 100.0]) == [2, 1, 2, 4]


def test_nobody_on_the_board_is_nobody_ranked() -> None:
    assert ranks([]) == []


def test_places_follow_the_better_way_of_the_measure_and_are_shared() -> None:
    masses = {"ada": 61.04, "bo": 48.2, "cy": 48.21, "di": None, "eve": 90.0}
    found = places(masses, "mass")
    assert {name: place.place for name, place in found.items()} == {"ada": 3, "bo": 1, "cy": 1, "eve": 4}
    assert {place.of for place in found.values()} == {4}
    assert places({"ada": 300.0, "bo": 200.0}, "efficiency")["ada"].place == 1


@given(st.dictionaries(st.integers(0, 50), st.none() | st.floats(0.1, 1e4), max_size=30))
def test_places_do_not_depend_on_the_order_of_students(values: dict[int, float | None]) -> None:
    turned = dict(reversed(values.items()))
    assert places(values, "efficiency") == places(turned, "efficiency")
    assert sorted(places(values, "efficiency")) == sorted(key for key, value in values.items() if value is not None)
