"""Which part of a mechanism is no triangle: the shortest rings of members that change their shape."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterator, Mapping
from itertools import combinations

from rubric.messages.outcomes import Analysis

MOST = 12
"""Rings told of at most."""

_NOISE = 1e-6
"""Part of their distance by which two joints part, for the movement of 1, that counts as none."""

Vector = tuple[float, float]
Ring = tuple[str, ...]


def leaning(analysis: Analysis) -> tuple[Ring, ...]:
    """The joints, in order, of each ring of four or more members that changes shape in the first movement.

    Of all such rings those with fewest members, each the shortest way round from one corner whose angle changes;
    nothing where no ring leans, as where a member hangs free, or where the form is critical and not a ring to blame.
    """
    if analysis.state != "mechanism" or analysis.form == "critical form":
        return ()
    at = {row.name: (row.x_mm, row.y_mm) for row in analysis.joints}
    found: dict[frozenset[str], Ring] = {}
    for ring in _rings(analysis, at):
        found.setdefault(frozenset(ring), ring)
    least = min(map(len, found), default=0)
    return tuple(ring for ring in found.values() if len(ring) == least)[:MOST]


def _rings(analysis: Analysis, at: Mapping[str, Vector]) -> Iterator[Ring]:
    motion = {row.name: row.motion or (0.0, 0.0) for row in analysis.joints}
    beside = neighbours(analysis)
    for corner in at:
        for one, other in combinations(beside[corner], 2):
            if _part(at[one], at[other], motion[one], motion[other]):
                way = _shortest(beside, one, other, corner)
                if way and _plain([at[name] for name in (corner, *way)]):
                    yield (corner, *way)


def neighbours(analysis: Analysis) -> dict[str, list[str]]:
    """The joints that members lead to, from each joint."""
    beside: dict[str, list[str]] = {row.name: [] for row in analysis.joints}
    for row in analysis.members:
        beside[row.start].append(row.end)
        beside[row.end].append(row.start)
    return beside


def _part(p: Vector, q: Vector, u: Vector, v: Vector) -> bool:
    """Whether the distance of two joints changes as they move."""
    away = (q[0] - p[0], q[1] - p[1])
    return abs(away[0] * (v[0] - u[0]) + away[1] * (v[1] - u[1])) > _NOISE * math.hypot(*away)


def _shortest(beside: Mapping[str, list[str]], start: str, end: str, without: str) -> Ring:
    """The joints on the way with fewest members that does not touch one joint; nothing where there is none."""
    before: dict[str, str] = {start: without}
    queue = deque([start])
    while queue and end not in before:
        here = queue.popleft()
        for there in beside[here]:
            if there != without and there not in before:
                before[there] = here
                queue.append(there)
    way = [end] if end in before else []
    while way and way[-1] != start:
        way.append(before[way[-1]])
    return tuple(reversed(way))


def _plain(corners: list[Vector]) -> bool:
    """Whether a ring is a plain polygon with an inside: no two of its sides cross."""
    sides = list(zip(corners, corners[1:] + corners[:1], strict=True))
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in sides) / 2
    reach = sum(math.dist(a, b) for a, b in sides)
    return abs(area) > 1e-3 * reach * reach and not any(
        _cross(*one, *other) for one, other in combinations(sides, 2) if not set(one) & set(other)
    )


def _cross(a: Vector, b: Vector, c: Vector, d: Vector) -> bool:
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


def _side(a: Vector, b: Vector, p: Vector) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
