"""Lateness by day or hour, with a grace and an end."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.rules.lateness import Lateness, how_late
from tests.rubric.criteria.made import marks, rubric

BY_DAY = Lateness.model_validate({"grace": "10 min", "per day": "10 %", "most": "30 %"})
BY_HOUR = Lateness.model_validate({"per hour": "2 points", "most": "5 points"})
LATE = [(0, 0), (10, 0), (10.5, 8), (1440, 8), (1441, 16), (2881, 24), (1e7, 24)]


@pytest.mark.parametrize(("minutes", "cost"), LATE)
def test_each_day_begun_costs_its_part_after_the_grace_and_up_to_the_most(minutes: float, cost: float) -> None:
    assert BY_DAY.cost(minutes, 80) == cost


@pytest.mark.parametrize(("minutes", "cost"), [(0, 0), (1, 2), (60, 2), (61, 4), (600, 5)])
def test_lateness_in_points_never_takes_more_than_was_earned(minutes: float, cost: float) -> None:
    assert BY_HOUR.cost(minutes, 80) == cost
    assert BY_HOUR.cost(minutes, 1) == min(cost, 1)


@given(st.floats(0, 1e6), st.floats(0, 1e6), st.integers(0, 10_000))
def test_later_is_never_cheaper(one: float, other: float, cents: int) -> None:
    early, late = sorted((one, other))
    earned = cents / 100
    for rule in (BY_DAY, BY_HOUR):
        assert 0 <= rule.cost(early, earned) <= rule.cost(late, earned) <= earned


def test_lateness_says_how_late_and_what_it_costs() -> None:
    head = "lateness: {grace: 10 min, per day: 10 %, most: 30 %}\n"
    found = marks(rubric("count", "of: joints, at most: 9", head), minutes_late=26 * 60 - 5, joints=9.0)
    assert found.total == 16
    assert found.rules == (
        "Minus 4 points: handed in 1 day 1 hour late. Each day begun costs 10 % of your points, 30 % at most, and 2 days have begun.",
    )
    assert BY_DAY.rule() == (
        "Late work: each day begun costs 10 % of your points, 30 % at most. The first 10 minutes cost nothing."
    )


def test_time_is_said_in_days_hours_and_minutes() -> None:
    assert [how_late(minutes) for minutes in (0.2, 8, 65, 1440, 1501)] == [
        "1 minute", "8 minutes", "1 hour 5 minutes", "1 day", "1 day 1 hour",
    ]  # fmt: skip
