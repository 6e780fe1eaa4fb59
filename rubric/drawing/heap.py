"""Dots along a line, heaped where they would touch: each stays a dot of its own."""

from __future__ import annotations

from collections.abc import Sequence

from rubric.drawing.svg import Point

_BETWEEN = 0.8
_OFF = 3.0
"""From the line to the lowest dots."""


def heaped(places: Sequence[float], radii: Sequence[float], highest: float) -> tuple[list[Point], float]:
    """Centres of the dots, y up from the line negative, in the order given; and the radius that keeps the heap low."""
    centres: list[Point] = []
    radius = radii[-1]
    for radius in radii:
        centres = _heap(places, radius)
        if not centres or -min(y for _, y in centres) <= highest:
            break
    return centres, radius


def _heap(places: Sequence[float], radius: float) -> list[Point]:
    step, centres = 2 * radius + _BETWEEN, list[Point]()
    for x in places:
        y = -radius - _OFF
        while any(abs(x - cx) < step and abs(y - cy) < 2 * radius for cx, cy in centres):
            y -= step
        centres.append((x, y))
    return centres
