"""Where a mechanism goes: its joints step by step along the movement, all members as long as they were."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from rubric.messages.outcomes import Analysis
from worker.feedback.figures.parts import ground_side
from worker.feedback.figures.spoken import with_the_load
from worker.statics.structure import Floats

LARGE = 60
"""Joints beyond which the movement is drawn along straight lines."""

_STEPS = 12
_KEPT = 0.3
"""A movement slowed down to this part of what it began with has come to its end."""
_TOLERANCE = 1e-9

Places = dict[str, tuple[float, float]]


def swing(analysis: Analysis, furthest: float, page: Callable[[Places], float]) -> tuple[list[Places], bool]:
    """Places of the joints, mm, at half the movement and at all of it; and whether members keep their length.

    ``page`` tells how far the joint that moves most is then drawn from its place, which at the end is
    ``furthest``.  Each step follows the movement that is possible there, and Newton's method puts lengths and supports
    right again.  Where the movement dies away at once (a critical form) and in a very large truss all
    joints go along straight lines, on which members do change their length.
    """
    at = {row.name: (row.x_mm, row.y_mm) for row in analysis.joints}
    motion = [row.motion or (0.0, 0.0) for row in analysis.joints]
    way = with_the_load(analysis) * np.array(motion, dtype=float).ravel()
    start = np.array(list(at.values()), dtype=float).ravel()
    reach = page(_named(at, start + way))
    if not reach:
        return [at, at], True
    size = furthest / reach
    followed = None if len(at) > LARGE else _followed(analysis, start, way, size)
    if followed is None:
        return [_named(at, start + part * size * way) for part in (0.5, 1.0)], False
    return [_named(at, followed[part]) for part in (_STEPS // 2, _STEPS)], True


def _named(at: Places, places: Floats) -> Places:
    return {name: (float(x), float(y)) for name, (x, y) in zip(at, places.reshape(-1, 2), strict=True)}


def _followed(analysis: Analysis, start: Floats, way: Floats, size: float) -> list[Floats] | None:
    """Places after each step, the first is ``start``; None where the movement is none but at its very beginning."""
    held = _Held(analysis, start)
    places, here, before = [start], start, way
    for _ in range(_STEPS):
        along = held.free(here, before)
        if np.linalg.norm(along) < _KEPT * np.linalg.norm(way):
            return None
        before = along * np.linalg.norm(way) / np.linalg.norm(along)
        corrected = held.corrected(here + before * size / _STEPS)
        if corrected is None:
            return None
        here = corrected
        places.append(here)
    return places


class _Held:
    """What stays as it is: the length of each member, and each support in the directions that it holds."""

    def __init__(self, analysis: Analysis, start: Floats) -> None:
        index = {row.name: i for i, row in enumerate(analysis.joints)}
        self.ends = np.array([(index[m.start], index[m.end]) for m in analysis.members], dtype=int).reshape(-1, 2)
        rows = [(index[row.name], way) for row in analysis.joints if row.support for way in _directions(row.support)]
        self.supports = np.zeros((len(rows), start.size))
        for number, (joint, way) in enumerate(rows):
            self.supports[number, 2 * joint : 2 * joint + 2] = way
        self.start = start
        self.lengths = self._lengths(start)

    def _lengths(self, places: Floats) -> Floats:
        xy = places.reshape(-1, 2)
        away = xy[self.ends[:, 1]] - xy[self.ends[:, 0]]
        found: Floats = np.hypot(away[:, 0], away[:, 1])
        return found

    def _slopes(self, places: Floats) -> Floats:
        """How lengths and supports change with each coordinate: one row each."""
        xy = places.reshape(-1, 2)
        rows: Floats = np.zeros((len(self.ends), places.size))
        for number, (a, b) in enumerate(self.ends):
            away = xy[b] - xy[a]
            way = away / max(math.hypot(*away), 1e-12)
            rows[number, 2 * a : 2 * a + 2] -= way
            rows[number, 2 * b : 2 * b + 2] += way
        return np.vstack([rows, self.supports])

    def free(self, places: Floats, way: Floats) -> Floats:
        """The part of a movement that changes nothing that is held."""
        slopes = self._slopes(places)
        return way - _least(slopes, slopes @ way, _TOLERANCE)

    def corrected(self, places: Floats) -> Floats | None:
        """The places nearby where all that is held is as it was; None where Newton's method finds none."""
        scale = float(self.lengths.max(initial=1.0))
        for _ in range(8):
            off = np.concatenate([self._lengths(places) - self.lengths, self.supports @ (places - self.start)])
            if np.abs(off).max(initial=0.0) < 1e-6 * scale:
                return places
            places = places - _least(self._slopes(places), off, 1e-6)
        return None


def _least(slopes: Floats, off: Floats, tolerance: float) -> Floats:
    """The shortest step that makes good what is off; smaller singular values than the tolerance count as nought."""
    step: Floats = np.asarray(np.linalg.lstsq(slopes, off, rcond=tolerance)[0], dtype=np.float64)
    return step


def _directions(said: str) -> list[tuple[float, float]]:
    """Unit vectors along which a support holds, y up."""
    if said.startswith("roller"):
        x, y = ground_side(said, (0.0, 0.0), (0.0, 0.0))
        return [(x, -y)]
    return [(1.0, 0.0), (0.0, 1.0)]
