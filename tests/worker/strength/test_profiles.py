"""Areas and second moments against closed forms and against sums over small squares."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from worker.strength.profiles import Section, angle, circle, each_alone, glued_along, rectangle, tee

SIDE = st.floats(1, 50)
FINE = st.floats(0.1, 0.9)


def by_squares(inside, width: float, depth: float, n: int = 240) -> tuple[float, float, float, float]:
    """A, in-plane, out-of-plane and product moment of a shape cut into n x n little rectangles."""
    h, k = width / n, depth / n
    points = [((i + 0.5) * h, (j + 0.5) * k) for i in range(n) for j in range(n)]
    kept = [(x, y) for x, y in points if inside(x, y)]
    xc, yc = (sum(c) / len(kept) for c in zip(*kept, strict=True))
    moments = (lambda x, y: (x - xc) ** 2, lambda x, y: (y - yc) ** 2, lambda x, y: (x - xc) * (y - yc))
    return len(kept) * h * k, *(h * k * sum(f(x, y) for x, y in kept) for f in moments)


def four(section: Section) -> tuple[float, float, float, float]:
    return section.area_mm2, section.in_plane_mm4, section.out_of_plane_mm4, section.product_mm4


def test_a_rectangle_by_hand() -> None:
    """6 mm in the plane x 3 mm across it: 3 x 6^3 / 12 = 54, 6 x 3^3 / 12 = 13.5."""
    found = rectangle(6, 3)
    assert (found.width_mm, found.depth_mm, found.centroid_mm) == (6, 3, (3, 1.5))
    assert four(found) == (18, 54, 13.5, 0)
    assert found.weaker_second_moment_mm4 == 13.5
    assert found.radius_of_gyration_mm == pytest.approx(3 / math.sqrt(12))


def test_a_round_by_hand() -> None:
    """Diameter 4 mm: A = 4 pi, I = 4 pi, r = D / 4 = 1."""
    found = circle(4)
    assert four(found) == pytest.approx((4 * math.pi, 4 * math.pi, 4 * math.pi, 0))
    assert (found.width_mm, found.depth_mm, found.centroid_mm) == (4, 4, (2, 2))
    assert found.radius_of_gyration_mm == pytest.approx(1)


def test_an_angle_agrees_with_its_sum_over_little_squares() -> None:
    found = angle(12, 8, 2)
    assert four(found) == pytest.approx(by_squares(lambda x, y: x < 2 or y < 2, 12, 8), rel=1e-3)
    assert (found.width_mm, found.depth_mm) == (12, 8)
    assert found.askew


def test_a_tee_agrees_with_its_sum_over_little_squares() -> None:
    found = tee(12, 8, 2)
    squares = by_squares(lambda x, y: x < 2 or 5 < y < 7, 8, 12)
    assert four(found)[:3] == pytest.approx(squares[:3], rel=1e-3)
    assert (found.width_mm, found.depth_mm, found.product_mm4) == (8, 12, 0)
    assert not found.askew


def test_centroids_of_an_angle_and_a_tee_by_hand() -> None:
    """L 10 x 10 x 2: (10x2x5 + 8x2x1) / 36 = 3.2222.  T 10 x 10 x 2: (10x2x1 + 8x2x6) / 36 = 3.2222, and the middle."""
    assert angle(10, 10, 2).centroid_mm == pytest.approx((116 / 36, 116 / 36))
    assert tee(10, 10, 2).centroid_mm == pytest.approx((116 / 36, 5))


def test_an_equal_angle_is_weakest_about_the_line_through_its_legs() -> None:
    found = angle(10, 10, 1.5)
    assert found.weaker_second_moment_mm4 == pytest.approx(found.in_plane_mm4 - abs(found.product_mm4))
    assert found.principal_mm4[0] == pytest.approx(found.in_plane_mm4 + abs(found.product_mm4))
    assert found.product_mm4 < 0  # the legs lie along the two axes, the rest of the box is empty


@given(a=SIDE, b=SIDE, part=FINE)
def test_principal_moments_keep_sum_and_product_and_order(a: float, b: float, part: float) -> None:
    found = angle(a, b, part * min(a, b))
    most, least = found.principal_mm4
    assert most + least == pytest.approx(found.in_plane_mm4 + found.out_of_plane_mm4)
    assert most * least == pytest.approx(found.in_plane_mm4 * found.out_of_plane_mm4 - found.product_mm4**2)
    assert 0 < least <= min(found.in_plane_mm4, found.out_of_plane_mm4) * (1 + 1e-12)


@given(a=SIDE, b=SIDE, part=FINE)
def test_turning_an_angle_over_swaps_its_axes(a: float, b: float, part: float) -> None:
    t = part * min(a, b)
    one, other = angle(a, b, t), angle(b, a, t)
    assert (one.in_plane_mm4, one.area_mm2) == pytest.approx((other.out_of_plane_mm4, other.area_mm2))
    assert one.weaker_second_moment_mm4 == pytest.approx(other.weaker_second_moment_mm4, rel=1e-6)


@given(width=SIDE, depth=SIDE, count=st.integers(1, 5))
def test_rectangles_glued_along_their_length_are_one_rectangle(width: float, depth: float, count: int) -> None:
    found, whole = glued_along(rectangle(width, depth), count), rectangle(width, count * depth)
    assert four(found) == pytest.approx(four(whole))
    assert (found.width_mm, found.depth_mm) == pytest.approx((whole.width_mm, whole.depth_mm))
    assert found.centroid_mm == pytest.approx(whole.centroid_mm)


def test_two_rounds_glued_along_a_line_by_hand() -> None:
    """Each a radius from the line: 2 (pi D^4 / 64 + A D^2 / 4) = 2 (4 pi + 16 pi) for D = 4."""
    found = glued_along(circle(4), 2)
    assert four(found) == pytest.approx((8 * math.pi, 8 * math.pi, 40 * math.pi, 0))
    assert (found.width_mm, found.depth_mm, found.centroid_mm) == (4, 8, (2, 4))


def test_three_rounds_glued_along_lines_by_hand() -> None:
    """The middle one 4 pi, the outer ones 4 pi + 4 pi x 4^2 each."""
    assert glued_along(circle(4), 3).out_of_plane_mm4 == pytest.approx((4 + 68 + 68) * math.pi)


@given(count=st.integers(1, 5))
def test_sticks_that_bend_alone_are_no_stiffer_for_their_size_than_one(count: int) -> None:
    one = angle(10, 8, 1.5)
    found = each_alone(one, count)
    assert four(found) == pytest.approx(tuple(count * value for value in four(one)))
    assert found.radius_of_gyration_mm == pytest.approx(one.radius_of_gyration_mm)
    assert found.depth_mm == count * one.depth_mm
    assert found.centroid_mm == pytest.approx((one.centroid_mm[0], count * one.depth_mm / 2))


@given(a=SIDE, b=SIDE, part=FINE)
def test_a_tee_is_never_askew_whatever_rounding_leaves(a: float, b: float, part: float) -> None:
    found = tee(a, b, part * min(a, b))
    assert found.product_mm4 == 0.0
    assert not found.askew
