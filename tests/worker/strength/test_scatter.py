"""Lower fractiles against the tables of the normal distribution."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from worker.strength.scatter import Scatter, at_fractile

COV = st.floats(0, 0.6)


def test_the_5_percent_fractile_of_a_normal_is_1645_standard_deviations_down() -> None:
    assert at_fractile(100, 0.2, 0.05, "normal") == pytest.approx(100 * (1 - 1.6448536 * 0.2))


def test_the_5_percent_fractile_of_a_lognormal_by_hand() -> None:
    """V = 0.2: s = sqrt(ln 1.04) = 0.198042; 100 exp(-1.6448536 x 0.198042) / sqrt(1.04) = 70.7965."""
    assert at_fractile(100, 0.2, 0.05) == pytest.approx(70.7965, rel=1e-5)


def test_half_of_all_stay_below_the_median() -> None:
    assert at_fractile(100, 0.3, 0.5, "normal") == pytest.approx(100)
    assert at_fractile(100, 0.3, 0.5) == pytest.approx(100 / math.sqrt(1.09))


@given(cov=COV, low=st.floats(0.001, 0.4), step=st.floats(0.01, 0.4))
def test_a_higher_fractile_is_never_lower_and_a_lognormal_one_never_below_nought(cov, low, step) -> None:
    for law in ("normal", "lognormal"):
        assert at_fractile(10, cov, low, law) <= at_fractile(10, cov, low + step, law) * (1 + 1e-12) + 1e-9
    assert at_fractile(10, cov, low) > 0


@given(mean=st.floats(0.1, 1e5))
def test_without_scatter_every_fractile_is_the_mean(mean: float) -> None:
    assert at_fractile(mean, 0, 0.05) == pytest.approx(mean)
    assert at_fractile(mean, 0, 0.05, "normal") == pytest.approx(mean)


@pytest.mark.parametrize("fractile", [0, 1, -0.1, 1.1])
def test_a_fractile_outside_nought_and_one_is_refused(fractile: float) -> None:
    with pytest.raises(ValueError, match="a fractile lies between 0 and 1, not at"):
        at_fractile(10, 0.2, fractile)


def test_the_default_scatter_is_the_handbooks() -> None:
    """Wood Handbook FPL-GTR-190, Table 5-6; glue is an assumption."""
    assert Scatter() == Scatter(0.25, 0.18, 0.14, 0.22, 0.10, 0.15, "lognormal")
