"""Dates as a teacher types them, on clocks that are put forward and back."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.classes.dates import DateRefused, in_order, moment, typed

LISBON, VIENNA, LORD_HOWE = "Europe/Lisbon", "Europe/Vienna", "Australia/Lord_Howe"


def read(text: str, zone: str = VIENNA) -> datetime | None:
    return moment(text, "The due date", zone)


def test_a_date_is_kept_in_universal_time_summer_and_winter() -> None:
    assert read("2027-03-15T16:00") == datetime(2027, 3, 15, 15, 0)
    assert read("2027-07-01T16:00") == datetime(2027, 7, 1, 14, 0)
    assert read("  ") is None


def test_an_hour_that_clocks_leap_over_is_told_with_the_next_one() -> None:
    with pytest.raises(DateRefused, match=r"2027-03-28 02:30, does not exist.*Take Sun 28 March 2027, 03:30"):
        read("2027-03-28T02:30")
    with pytest.raises(DateRefused, match="does not exist"):
        read("2027-03-28T01:30", LISBON)


def test_an_hour_that_comes_twice_is_told() -> None:
    with pytest.raises(DateRefused, match="2027-10-31 02:30, comes twice"):
        read("2027-10-31T02:30")
    assert read("2027-10-31T03:00") == datetime(2027, 10, 31, 2, 0)


def test_where_clocks_move_by_half_an_hour_only_that_half_hour_comes_twice() -> None:
    with pytest.raises(DateRefused, match="comes twice"):
        read("2027-04-04T01:45", LORD_HOWE)
    assert read("2027-04-04T01:15", LORD_HOWE) is not None


@pytest.mark.parametrize("text", ["tomorrow", "2027-13-01T10:00", "0001-01-01T00:00", "2027-03-15", "9" * 5000])
def test_what_is_no_date_is_told_with_an_example(text: str) -> None:
    with pytest.raises(DateRefused, match="such as 2027-03-15T16:00"):
        read(text)


@given(st.datetimes(datetime(2001, 1, 1), datetime(2099, 12, 31)).map(lambda d: d.replace(second=0, microsecond=0)))
def test_a_date_that_is_shown_and_sent_back_stays_the_same(when: datetime) -> None:
    try:
        assert moment(typed(when, VIENNA), "It", VIENNA) == when
    except DateRefused as refused:
        assert "comes twice" in str(refused)


def test_work_is_not_due_before_it_opens() -> None:
    early, late = datetime(2027, 3, 1), datetime(2027, 3, 2)
    in_order(early, late)
    in_order(late, None)
    with pytest.raises(DateRefused, match="due before it opens"):
        in_order(late, early)
