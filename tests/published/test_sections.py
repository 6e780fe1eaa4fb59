"""Section properties against textbooks and tables of rolled sections."""

from __future__ import annotations

import pytest

from worker.strength.profiles import Section, angle, circle, tee


def test_tee_of_two_equal_plates() -> None:
    """expertsmind.com, moment of inertia of a T: flange 150 x 50, web 50 x 150 mm; centroid 125 mm above the foot.

    Ixx = 2 (7500 x 50^2) + 150 x 50^3 / 12 + 50 x 150^3 / 12 = 53.125e6, Iyy = 15.625e6 mm4.
    """
    found = tee(150, 200, 50)
    assert (found.area_mm2, 200 - found.centroid_mm[0]) == pytest.approx((15000, 125))
    assert (found.in_plane_mm4, found.out_of_plane_mm4) == pytest.approx((53.125e6, 15.625e6))


def test_tee_of_a_course_problem() -> None:
    """coursehero.com, problem 8.27: flange 20 x 4, web 4 x 16 mm: area 144 mm2, centroid 6.444 mm below the top."""
    found = tee(20, 20, 4)
    assert found.area_mm2 == 144
    assert found.centroid_mm[0] == pytest.approx(6.444, abs=5e-4)


def test_tee_of_another_course_problem() -> None:
    """askfilo.com: flange 100 x 20, web 20 x 80 mm: centroid (2000 x 90 + 1600 x 40) / 3600 above the foot."""
    found = tee(100, 100, 20)
    assert 100 - found.centroid_mm[0] == pytest.approx((2000 * 90 + 1600 * 40) / 3600)


@pytest.mark.parametrize(("b", "d", "t"), [(60.0, 80.0, 10.0), (50.0, 50.0, 5.0), (10.0, 8.0, 1.5)])
def test_angles_by_the_formulas_of_a_calculator(b: float, d: float, t: float) -> None:
    """amesweb.info, unequal angle: closed forms of area, centroid and both second moments."""
    found, A = angle(d, b, t), t * (b + d - t)
    xc, yc = (b**2 + d * t - t**2) / (2 * (b + d - t)), (d**2 + b * t - t**2) / (2 * (b + d - t))
    assert (found.area_mm2, *found.centroid_mm) == pytest.approx((A, yc, xc))
    assert found.in_plane_mm4 == pytest.approx((b * d**3 - (b - t) * (d - t) ** 3) / 3 - A * (d - yc) ** 2)
    assert found.out_of_plane_mm4 == pytest.approx((d * b**3 - (d - t) * (b - t) ** 3) / 3 - A * (b - xc) ** 2)


ROLLED = [  # EN 10056-1, from memory; the rolled angle has a fillet that ours has not: a x b x t; A cm2, c cm, Iu, Iv cm4
    ((50.0, 50.0, 5.0), 4.80, 1.40, 17.4, 4.55),
    ((75.0, 50.0, 6.0), 7.19, 2.44, 46.6, 8.36),
]


@pytest.mark.parametrize(("sides", "area", "centroid", "most", "least"), ROLLED)
def test_angles_come_near_the_rolled_ones(sides, area, centroid, most, least) -> None:
    found = angle(*sides)
    assert found.area_mm2 / 100 == pytest.approx(area, rel=0.02)
    assert found.centroid_mm[0] / 10 == pytest.approx(centroid, rel=0.03)
    assert [moment / 1e4 for moment in found.principal_mm4] == pytest.approx([most, least], rel=0.035)


def test_principal_moments_of_a_textbook_section() -> None:
    """Gere, Mechanics of Materials, Z-section of example 12-7 (from memory): 29.29, 5.667, -9.366; 32.6 and 2.4 e6 mm4."""
    most, least = Section(200, 165, 5775, (0, 0), 29.29e6, 5.667e6, -9.366e6).principal_mm4
    assert most / 1e6 == pytest.approx(32.6, abs=0.05)
    assert least / 1e6 == pytest.approx(2.4, abs=0.05)


@pytest.mark.parametrize("a", [10.0, 40.0])
def test_a_thin_equal_angle_has_the_moments_of_thin_walled_theory(a: float) -> None:
    """Roark's Formulas for Stress and Strain, thin equal angle (from memory): Iu = a^3 t / 3, Iv = a^3 t / 12."""
    t = a / 1000
    most, least = angle(a + t / 2, a + t / 2, t).principal_mm4
    assert (most, least) == pytest.approx((a**3 * t / 3, a**3 * t / 12), rel=2e-3)


def test_a_dowel_of_12_mm() -> None:
    """pi D^2 / 4 = 113.10 mm2, pi D^4 / 64 = 1017.9 mm4 (any table of round bars)."""
    found = circle(12)
    assert (found.area_mm2, found.in_plane_mm4) == pytest.approx((113.10, 1017.9), rel=1e-4)
