"""The side truss at full size: each member as a rectangle of its true width, cut off where a page ends."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rubric.brief import Brief
from rubric.drawing.boxes import Box
from rubric.messages.outcomes import Analysis, MemberRow
from worker.strength.sections import section

Point = tuple[float, float]
Line = tuple[Point, Point]


@dataclass(frozen=True)
class Bar:
    """One member on the plan: where its centre line runs and how wide its stick is."""

    member: MemberRow
    start: Point
    end: Point
    width_mm: float

    @property
    def box(self) -> Box:
        """The stick as a rectangle."""
        (ax, ay), (bx, by) = self.start, self.end
        length = math.dist(self.start, self.end)
        axis = ((bx - ax) / length, (by - ay) / length)
        return Box(((ax + bx) / 2, (ay + by) / 2), length / 2, self.width_mm / 2, axis)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Of the rectangle, in turn."""
        box = self.box
        (x, y), (ux, uy) = box.at, box.axis
        ways = ((-1, -1), (1, -1), (1, 1), (-1, 1))
        a, b, c, d = (
            (x + s * box.along * ux - t * box.across * uy, y + s * box.along * uy + t * box.across * ux)
            for s, t in ways
        )
        return a, b, c, d


def bars(analysis: Analysis, brief: Brief) -> tuple[Bar, ...]:
    """Every member, with the width of its stick in the plane of the truss."""
    at = {joint.name: (joint.x_mm, joint.y_mm) for joint in analysis.joints}
    return tuple(
        Bar(row, at[row.start], at[row.end], section(brief.stock[row.stick], row.count, brief.glued).width_mm)
        for row in analysis.members
    )


def clipped(line: Line, low: Point, high: Point) -> Line | None:
    """The part of a line within an upright rectangle, or None (Liang and Barsky: a range of the parameter)."""
    (ax, ay), (bx, by) = line
    first, last = 0.0, 1.0
    for start, step, least, most in ((ax, bx - ax, low[0], high[0]), (ay, by - ay, low[1], high[1])):
        if step == 0:
            if not least <= start <= most:
                return None
            continue
        enters, leaves = sorted(((least - start) / step, (most - start) / step))
        first, last = max(first, enters), min(last, leaves)
    if first >= last:
        return None
    return (
        (ax + first * (bx - ax), ay + first * (by - ay)),
        (ax + last * (bx - ax), ay + last * (by - ay)),
    )


def cropped(corners: tuple[Point, ...], low: Point, high: Point) -> tuple[Point, ...]:
    """The part of a convex outline within an upright rectangle (Sutherland and Hodgman: side by side)."""
    found = corners
    for i, limit, sign in ((0, low[0], 1), (0, high[0], -1), (1, low[1], 1), (1, high[1], -1)):
        found = _one_side(found, i, limit, sign)
    return found


def _one_side(corners: tuple[Point, ...], i: int, limit: float, sign: int) -> tuple[Point, ...]:
    kept: list[Point] = []
    for before, here in zip((*corners[-1:], *corners[:-1]), corners, strict=True):
        was, is_ = sign * (before[i] - limit), sign * (here[i] - limit)
        if was * is_ < 0:
            part = was / (was - is_)
            kept.append((before[0] + part * (here[0] - before[0]), before[1] + part * (here[1] - before[1])))
        if is_ >= 0:
            kept.append(here)
    return tuple(kept)
