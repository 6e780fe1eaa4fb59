"""Areas and second moments of the shapes that sticks come in, single, side by side and built up.

Lengths in mm, areas in mm2, second moments in mm4.  ``in_plane`` is the second moment that resists
bending in the plane of the truss, ``out_of_plane`` the one that resists bending out of it.  Every
built-up section is a sum of rectangles by the parallel-axis theorem (any strength-of-materials text).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Section:
    """``width_mm`` in the plane of the truss x ``depth_mm`` across it, over all.

    ``centroid_mm`` is measured from the least corner of the box around the section.
    """

    width_mm: float
    depth_mm: float
    area_mm2: float
    centroid_mm: tuple[float, float]
    in_plane_mm4: float
    out_of_plane_mm4: float
    product_mm4: float = 0.0

    @property
    def principal_mm4(self) -> tuple[float, float]:
        """Largest and least second moment: (Ix + Iy)/2 +- sqrt(((Ix - Iy)/2)^2 + Ixy^2), Mohr's circle."""
        Ix, Iy, Ixy = self.in_plane_mm4, self.out_of_plane_mm4, self.product_mm4
        largest = (Ix + Iy) / 2 + math.hypot((Ix - Iy) / 2, Ixy)
        return largest, (Ix * Iy - Ixy**2) / largest

    @property
    def weaker_second_moment_mm4(self) -> float:
        """The least second moment about any axis through the centroid."""
        return self.principal_mm4[1]

    @property
    def radius_of_gyration_mm(self) -> float:
        """r = sqrt(I / A) about the weakest axis."""
        return math.sqrt(self.weaker_second_moment_mm4 / self.area_mm2)

    @property
    def askew(self) -> bool:
        """Whether the principal axes lie neither in the plane of the truss nor square to it."""
        return self.product_mm4 != 0


def rectangle(width_mm: float, depth_mm: float) -> Section:
    """A = b d, I = b d^3 / 12."""
    b, d = width_mm, depth_mm
    return Section(b, d, b * d, (b / 2, d / 2), d * b**3 / 12, b * d**3 / 12)


def circle(diameter_mm: float) -> Section:
    """A = pi D^2 / 4, I = pi D^4 / 64."""
    D = diameter_mm
    I = math.pi * D**4 / 64  # noqa: E741 - the textbook's letter
    return Section(D, D, math.pi * D**2 / 4, (D / 2, D / 2), I, I)


def angle(leg_mm: float, across_mm: float, thickness_mm: float) -> Section:
    """An L of two strips: one leg in the plane of the truss, the other across it."""
    a, b, t = leg_mm, across_mm, thickness_mm
    return _built_up(a, b, ((a, t, a / 2, t / 2), (t, b - t, t / 2, (b + t) / 2)))


def tee(flange_mm: float, depth_mm: float, thickness_mm: float) -> Section:
    """A T of two strips: the flange across the plane of the truss, the stem in the plane."""
    b, d, t = flange_mm, depth_mm, thickness_mm
    found = _built_up(d, b, ((t, b, t / 2, b / 2), (d - t, t, (d + t) / 2, b / 2)))
    return replace(found, product_mm4=0.0)  # the stem is an axis of symmetry


def _built_up(width: float, depth: float, parts: tuple[tuple[float, float, float, float], ...]) -> Section:
    """Rectangles, each ``(w, d, x, y)``: width in the plane, depth across it, place of its centre."""
    A = sum(w * d for w, d, _, _ in parts)
    xc = sum(w * d * x for w, d, x, _ in parts) / A
    yc = sum(w * d * y for w, d, _, y in parts) / A
    return Section(
        width,
        depth,
        A,
        (xc, yc),
        sum(d * w**3 / 12 + w * d * (x - xc) ** 2 for w, d, x, _ in parts),
        sum(w * d**3 / 12 + w * d * (y - yc) ** 2 for w, d, _, y in parts),
        sum(w * d * (x - xc) * (y - yc) for w, d, x, y in parts),
    )


def glued_along(one: Section, count: int) -> Section:
    """``count`` like sticks stacked across the plane of the truss, acting as one.

    Each stands ``h`` (its depth) from the next, so that the sum of A e^2 is A h^2 n (n^2 - 1) / 12;
    of n rectangles this makes b (n h)^3 / 12.
    """
    n, h, A = count, one.depth_mm, one.area_mm2
    return replace(
        one,
        depth_mm=n * h,
        area_mm2=n * A,
        centroid_mm=(one.centroid_mm[0], n * h / 2),
        in_plane_mm4=n * one.in_plane_mm4,
        out_of_plane_mm4=n * one.out_of_plane_mm4 + A * h**2 * n * (n**2 - 1) / 12,
    )


def each_alone(one: Section, count: int) -> Section:
    """``count`` like sticks that bend each for itself: areas and second moments add up, nothing more."""
    n = count
    return replace(
        one,
        depth_mm=n * one.depth_mm,
        area_mm2=n * one.area_mm2,
        centroid_mm=(one.centroid_mm[0], n * one.depth_mm / 2),
        in_plane_mm4=n * one.in_plane_mm4,
        out_of_plane_mm4=n * one.out_of_plane_mm4,
        product_mm4=n * one.product_mm4,
    )
