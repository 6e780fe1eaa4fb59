"""The rig: a line through calibration points, tare, gear and gravity."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.contest.rig import Rig, fit

DAY = datetime(2027, 3, 20, 9, 0)
POINTS = [[0.4, 0], [10.3, 10], [20.4, 20], [40.2, 40]]


def rig(**more: object) -> Rig:
    return Rig.model_validate({"most": "400 N"} | more)


def test_the_line_is_that_of_a_sum_worked_by_hand() -> None:
    # x 0, 1, 2 and y 0, 1, 3: mean 1 and 4/3, slope 3/2, start -1/6, residuals 1/6, -1/3, 1/6 (worked by hand)
    line = fit([(0, 0), (1, 1), (2, 3)])
    assert (line.start, line.slope) == pytest.approx((-1 / 6, 1.5))
    assert line.scatter == pytest.approx((1 / 6) ** 0.5)
    assert line.farthest == pytest.approx(1 / 3)


@given(st.floats(-50, 50), st.floats(0.1, 10), st.lists(st.floats(0, 100), min_size=3, max_size=9, unique=True))
def test_points_on_a_line_give_that_line_and_no_scatter(start: float, slope: float, xs: list[float]) -> None:
    if max(xs) - min(xs) < 1:
        return
    line = fit([(x, start + slope * x) for x in xs])
    assert line.at(20) == pytest.approx(start + slope * 20, abs=1e-6)
    assert line.scatter < 1e-6


def test_a_rig_in_newtons_without_points_believes_its_display_less_the_tare() -> None:
    assert rig(tare=5).load_N(205) == pytest.approx(200)


def test_gear_that_hangs_on_the_bridge_loads_it_too() -> None:
    assert rig(unit="kg", gear="250 g", gravity=9.81).load_N(10) == pytest.approx(10.25 * 9.81)


def test_a_calibrated_reading_in_kg_becomes_the_load_of_the_page() -> None:
    found = rig(unit="kg", tare=0.4, gear="250 g", points=POINTS, calibrated="2027-03-18 10:00")
    assert found.line.at(20) == pytest.approx(20.09, abs=0.005)
    assert found.load_N(20.4) == pytest.approx(199.4, abs=0.05)


def test_a_reading_typed_in_the_other_unit_means_the_same_load() -> None:
    found = rig(unit="kg", tare=0.4, points=POINTS, calibrated="2027-03-18 10:00", gravity=9.81)
    assert found.load_N(20 * 9.81, "N") == pytest.approx(found.load_N(20))


@pytest.mark.parametrize(
    ("more", "days", "said"),
    [
        ({}, 0, "no calibration points"),
        ({"points": POINTS, "calibrated": DAY, "unit": "kg"}, 31, "31 days old and is trusted for 30"),
        ({"points": POINTS, "calibrated": DAY}, 1, "calibration ends at 40 N and tests stop at 400 N"),
        ({"points": [[0, 0], [10, 12], [20, 18], [40, 40]], "calibrated": DAY, "unit": "kg"}, 1, "off their line"),
    ],
)
def test_a_rig_that_cannot_be_trusted_says_why(more: dict[str, object], days: int, said: str) -> None:
    (doubt,) = rig(**more).doubts(DAY + timedelta(days=days))
    assert said in doubt


def test_a_rig_calibrated_yesterday_raises_no_doubt() -> None:
    assert rig(unit="kg", tare=0.4, points=POINTS, calibrated=DAY).doubts(DAY + timedelta(days=1)) == ()
