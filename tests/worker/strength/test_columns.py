"""Column curves: what holds for every strut, whichever curve the brief chooses."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from worker.strength.columns import (
    CURVES,
    column_stability_factor,
    en_1995_stress_MPa,
    instability_factor,
    le_over_d,
    nds_stress_MPa,
    relative_slenderness,
    transition_slenderness,
)

CURVE = st.sampled_from(list(CURVES.values()))
E = st.floats(500, 20_000)
FC = st.floats(2, 100)
SLENDERNESS = st.floats(1, 500)


@given(curve=CURVE, E=E, fc=FC, slenderness=SLENDERNESS)
def test_no_curve_gives_more_than_crushing_or_nothing_at_all(curve, E, fc, slenderness) -> None:
    assert 0 < curve(E, fc, slenderness) <= fc * (1 + 1e-12)


@given(curve=CURVE, E=E, fc=FC, slenderness=SLENDERNESS, more=st.floats(1.01, 3))
def test_a_more_slender_strut_never_carries_more(curve, E, fc, slenderness, more) -> None:
    assert curve(E, fc, slenderness * more) <= curve(E, fc, slenderness) * (1 + 1e-12)


@given(curve=CURVE, E=E, fc=FC, slenderness=SLENDERNESS, more=st.floats(1.01, 3))
def test_stiffer_or_stronger_wood_never_carries_less(curve, E, fc, slenderness, more) -> None:
    assert curve(E * more, fc, slenderness) >= curve(E, fc, slenderness) * (1 - 1e-12)
    assert curve(E, fc * more, slenderness) >= curve(E, fc, slenderness) * (1 - 1e-12)


@given(curve=CURVE, E=E, fc=FC, slenderness=SLENDERNESS)
def test_the_curves_have_no_jump(curve, E, fc, slenderness) -> None:
    assert curve(E, fc, slenderness * (1 + 1e-7)) == pytest.approx(curve(E, fc, slenderness), rel=1e-5)


@given(curve=CURVE, E=E, fc=FC, slenderness=SLENDERNESS, unit=st.floats(1e-3, 1e3))
def test_the_curves_hold_in_any_unit_of_stress(curve, E, fc, slenderness, unit) -> None:
    assert curve(E * unit, fc * unit, slenderness) == pytest.approx(unit * curve(E, fc, slenderness), rel=1e-9)


@given(curve=CURVE, E=E, fc=FC)
def test_every_curve_ends_near_or_under_eulers_hyperbola(curve, E, fc) -> None:
    slenderness = 20 * transition_slenderness(E, fc)
    euler = math.pi**2 * E / slenderness**2
    assert 0.95 * euler < curve(E, fc, slenderness) <= euler * (1 + 1e-12)


@pytest.mark.parametrize("word", CURVES)
def test_a_very_short_strut_crushes_by_every_curve(word: str) -> None:
    assert CURVES[word](3400, 14.9, 1.0) == pytest.approx(14.9, rel=1e-3)


def test_the_three_words_of_a_brief_mean_three_curves() -> None:
    """Balsa at a slenderness of 60, by hand: 8.95 MPa by Johnson, less with the usual crookedness."""
    found = {word: curve(3400, 14.9, 60) for word, curve in CURVES.items()}
    assert found["Euler and Johnson"] == pytest.approx(14.9 * (1 - 14.9 * 3600 / (4 * math.pi**2 * 3400)))
    assert found["EN 1995-1-1"] == pytest.approx(instability_factor(60 / math.pi * math.sqrt(14.9 / 3400)) * 14.9)
    assert found["NDS"] == pytest.approx(column_stability_factor(0.822 * 3400 / 300 / 14.9) * 14.9)
    assert len({round(stress, 3) for stress in found.values()}) == 3


def test_relative_slenderness_is_one_where_euler_meets_crushing() -> None:
    assert relative_slenderness(1000, 10, math.pi * 10) == pytest.approx(1)


def test_instability_factor_at_relative_slenderness_one_by_hand() -> None:
    """k = (1 + 0.2 x 0.7 + 1) / 2 = 1.07; kc = 1 / (1.07 + sqrt(1.07^2 - 1)) = 0.689343; glulam has 0.1."""
    assert instability_factor(1.0) == pytest.approx(0.689343, rel=1e-5)
    assert instability_factor(1.0, 0.1) == pytest.approx(1 / (1.035 + math.sqrt(1.035**2 - 1)))


@pytest.mark.parametrize("relative", [0.1, 0.29, 0.3])
def test_a_stocky_strut_keeps_all_its_strength_by_en_1995(relative: float) -> None:
    assert instability_factor(relative) == 1
    assert instability_factor(0.3000001) == pytest.approx(1, rel=1e-6)
    assert instability_factor(0.35) < 1


@given(ratio=st.floats(1e-9, 1e6), c=st.sampled_from([0.8, 0.85, 0.9]))
def test_the_stability_factor_solves_its_quadratic(ratio: float, c: float) -> None:
    factor = column_stability_factor(ratio, c)
    assert 0 < factor <= min(1, ratio) * (1 + 1e-12)
    assert c * factor**2 - (1 + ratio) * factor + ratio == pytest.approx(0, abs=1e-9 * (1 + ratio))


def test_a_straighter_strut_is_stronger() -> None:
    assert column_stability_factor(1, 0.9) > column_stability_factor(1, 0.8) == pytest.approx(0.690983, rel=1e-6)


def test_a_square_stick_is_as_many_times_longer_than_thick_as_the_nds_counts() -> None:
    """6 x 6 mm, 150 mm: r = 6 / sqrt(12), le / d = 25."""
    assert le_over_d(150 / (6 / math.sqrt(12))) == pytest.approx(25)
    assert nds_stress_MPa(3400, 14.9, 25 * math.sqrt(12)) == pytest.approx(
        14.9 * column_stability_factor(0.822 * 3400 / 625 / 14.9)
    )


def test_en_1995_is_on_the_safe_side_of_johnson_for_the_same_wood() -> None:
    assert en_1995_stress_MPa(3400, 14.9, 60) < CURVES["Euler and Johnson"](3400, 14.9, 60)
