"""Buckling of struts against closed forms and the worked table of sticks.

Sources: Euler, pi^2 E I / (K L)^2; Johnson's parabola.  The stick values are balsa means of the
USDA Wood Handbook (E 3400 MPa, crushing 14.9 MPa), the forces computed independently from the
two formulas with a pocket calculator's precision.
"""

from __future__ import annotations

import math

import pytest

from rubric.brief import Stick
from worker.strength.columns import (
    buckling_stress_MPa,
    column_stability_factor,
    en_1995_stress_MPa,
    euler_N,
    johnson_stress_MPa,
    nds_stress_MPa,
    transition_slenderness,
)
from worker.strength.scatter import at_fractile
from worker.strength.sections import section

E, FC = 3400.0, 14.9

STICKS = [  # side mm, length mm, slenderness, Euler N, crushing N, Johnson N
    (6.0, 50.0, 28.868, 1449.65, 536.4, 486.78),
    (6.0, 150.0, 86.603, 161.07, 536.4, 161.07),
    (3.0, 100.0, 115.47, 22.651, 134.1, 22.651),
]


@pytest.mark.parametrize(("side", "length", "slenderness", "euler", "crush", "column"), STICKS)
def test_balsa_sticks_buckle_and_crush_as_worked_by_hand(side, length, slenderness, euler, crush, column) -> None:
    square = section(Stick.model_validate({"section": [side, side], "length": 900, "count": 1}), 1)
    found = length / square.radius_of_gyration_mm
    assert found == pytest.approx(slenderness, rel=2e-5)
    assert euler_N(E, square.weaker_second_moment_mm4, length) == pytest.approx(euler, rel=2e-5)
    assert FC * square.area_mm2 == pytest.approx(crush)
    assert buckling_stress_MPa(E, FC, found) * square.area_mm2 == pytest.approx(column, rel=2e-5)


def test_johnson_meets_euler_at_half_the_crushing_stress_with_the_same_slope() -> None:
    meet = transition_slenderness(E, FC)
    step = 1e-4 * meet
    assert meet == pytest.approx(math.pi * math.sqrt(2 * E / FC))
    assert johnson_stress_MPa(E, FC, meet) == pytest.approx(FC / 2)
    assert math.pi**2 * E / meet**2 == pytest.approx(FC / 2)
    slope = (buckling_stress_MPa(E, FC, meet + step) - FC / 2) / step
    assert slope == pytest.approx((FC / 2 - buckling_stress_MPa(E, FC, meet - step)) / step, rel=1e-3)


@pytest.mark.parametrize("factor", [0.5, 0.7, 2.0])
def test_effective_length_counts_squared_in_eulers_force(factor: float) -> None:
    """K of the theory: fixed-fixed 0.5, fixed-pinned 0.7, fixed-free 2.0 (any strength-of-materials text)."""
    assert euler_N(E, 100.0, factor * 80) * factor**2 == pytest.approx(euler_N(E, 100.0, 80))


def test_a_porch_post_of_the_residential_design_guide() -> None:
    """HUD Residential Structural Design Guide, 2nd ed. 2017, example 5.6 (E'min from memory).

    Spruce-pine-fir No. 2, 4 x 4 in, 7.3 ft, Fc* = 1150 x 1.15 psi, E'min 510 ksi: C_P 0.4378295,
    F'c 579.03 psi, utilisation 0.67671 under 4800 lb.
    """
    stress = nds_stress_MPa(510_000, 1150 * 1.15, 7.3 * 12 / (3.5 / math.sqrt(12)))
    assert stress / (1150 * 1.15) == pytest.approx(0.4378295, rel=1e-5)
    assert stress == pytest.approx(579.03, rel=1e-5)
    assert 4800 / (3.5**2 * stress) == pytest.approx(0.67671, rel=1e-4)


@pytest.mark.parametrize(("a", "factor"), [(0.1, 0.097876), (0.5, 0.433609), (1.0, 0.690983), (2.0, 0.867218)])
def test_column_stability_factor_of_sawn_lumber(a: float, factor: float) -> None:
    """NDS 2018, eq. 3.7-1, c = 0.8, worked from the formula."""
    assert column_stability_factor(a) == pytest.approx(factor, rel=2e-5)


@pytest.mark.parametrize(("feet", "ratio", "factor", "kips"), [
    (6, 0.9216, 0.6621, 16.8), (8, 0.5184, 0.4464, 11.3), (10, 0.3318, 0.3050, 7.7)])  # fmt: skip
def test_wood_column_of_a_mechanics_textbook(feet: int, ratio: float, factor: float, kips: float) -> None:
    """Gere, Mechanics of Materials, 6th ed., problem 11.9-31, solution: 3.5 x 7.25 in, Fc 1000 psi, E 1,300,000 psi.

    Its KcE is 0.3, which is 0.822 times the modulus of the column curve over E.
    """
    modulus, slenderness = 0.3 / 0.822 * 1_300_000, 12 * feet / 3.5 * math.sqrt(12)
    assert 0.822 * modulus / (slenderness / math.sqrt(12)) ** 2 / 1000 == pytest.approx(ratio, rel=2e-4)
    assert nds_stress_MPa(modulus, 1000, slenderness) / 1000 == pytest.approx(factor, rel=3e-4)
    assert nds_stress_MPa(modulus, 1000, slenderness) * 3.5 * 7.25 / 1000 == pytest.approx(kips, abs=0.06)


def test_wood_column_of_a_timber_textbook() -> None:
    """Design of Wood Structures - ASD, 5th ed., page 7.15: 6 x 6 Douglas fir, 14 ft: C_P 0.4819, F'c 433.8 psi."""
    stress = nds_stress_MPa(0.3 / 0.822 * 1_600_000, 900, 14 * 12 / 5.5 * math.sqrt(12))
    assert stress / 900 == pytest.approx(0.4819, rel=2e-4)
    assert stress == pytest.approx(433.8, rel=3e-4)


@pytest.mark.parametrize(("slenderness", "factor"), [(20, 0.99124), (60, 0.67637), (100, 0.30515), (150, 0.14300)])
def test_instability_factor_of_strength_class_c24(slenderness: float, factor: float) -> None:
    """EN 1995-1-1, 6.3.2, C24 of EN 338 (fc,0,k 21 MPa, E0.05 7400 MPa), worked from the formulas."""
    assert en_1995_stress_MPa(7400, 21, slenderness) / 21 == pytest.approx(factor, rel=2e-5)


@pytest.mark.parametrize(("E", "least"), [(1_400_000, 510_000), (1_600_000, 580_000), (1_200_000, 440_000)])
def test_the_nds_minimum_modulus_is_a_5_percent_fractile_over_a_safety_factor(E: float, least: float) -> None:
    """NDS 2018, Appendix D: Emin = 1.03 E (1 - 1.645 COV) / 1.66, COV 0.25; values of the supplement (from memory)."""
    fractile = at_fractile(E, 0.25, 0.05, "normal")
    assert 1.03 * fractile / 1.66 == pytest.approx(least, rel=0.01)


@pytest.mark.parametrize(("mean", "low"), [(8000, 5400), (9000, 6000), (11000, 7400), (12000, 8000), (14000, 9400)])
def test_the_5_percent_modulus_of_strength_classes_is_the_fractile_of_their_mean(mean: float, low: float) -> None:
    """EN 338, softwood C16 to C40, E0.05 against E0,mean; the handbook's 22 % of scatter, lognormal."""
    assert at_fractile(mean, 0.22, 0.05) == pytest.approx(low, rel=0.025)
