"""Buckling of struts against closed forms and the worked table of sticks.

Sources: Euler, pi^2 E I / (K L)^2; Johnson's parabola.  The stick values are balsa means of the
USDA Wood Handbook (E 3400 MPa, crushing 14.9 MPa), the forces computed independently from the
two formulas with a pocket calculator's precision.
"""

from __future__ import annotations

import math

import pytest

from rubric.brief import Stick
from worker.strength.columns import buckling_stress_MPa, euler_N, johnson_stress_MPa, transition_slenderness
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
