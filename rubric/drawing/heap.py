"""Dots along a line, heaped where they would touch: each stays a dot of its own."""

from __future__ import annotations

from bisect import bisect_left, insort
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
    step, rows = 2 * radius + _BETWEEN, list[list[float]]()
    centres: list[Point] = []
    for x in places:
        number = next((number for number, row in enumerate(rows) if _has_room(row, x, step)), len(rows))
        if number == len(rows):
            rows.append([])
        insort(rows[number], x)
        centres.append((x, -radius - _OFF - number * step))
    return centres


def _has_room(row: Sequence[float], x: float, step: float) -> bool:
    """Whether no dot of a row, sorted, is nearer to x than a step: only its neighbours can be."""
    at = bisect_left(row, x)
    return all(abs(x - other) >= step for other in row[max(0, at - 1) : at + 1])
