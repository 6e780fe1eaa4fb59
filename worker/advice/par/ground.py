"""The ground structure: joints on a grid over the envelope, and every bar that may run between them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from worker.truss.model import Support, Vector

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]

MOST_JOINTS = 400
"""A bound on the grid: 400 joints have 79,800 pairs."""

LEAST_ROWS = 2
NEAR = 2.0
"""Bars of at most this many cells each way are in the sparse structure that the search starts from."""

SAME = 1e-6
"""In cells: a loaded place this near to a joint of the grid is that joint."""


@dataclass(frozen=True)
class Ground:
    """Joints and possible bars.

    ``joints`` (n, 2) mm; ``starts`` and ``ends`` (m,) joint numbers; ``lengths`` (m,) mm; ``along`` (m, 2) unit
    vectors from start to end; ``near`` (m,) whether a bar is in the first, sparse structure; ``grid`` counts
    the cells across and up.
    """

    joints: Floats
    starts: Integers
    ends: Integers
    lengths: Floats
    along: Floats
    near: NDArray[np.bool_]
    grid: tuple[int, int]

    def stretch(self, moved: Floats) -> Floats:
        """Strain (m,) of every bar when the joints move by ``moved`` (n, 2)."""
        parted = moved[self.ends] - moved[self.starts]
        return np.asarray(np.einsum("ij,ij->i", parted, self.along) / self.lengths)


def ground(span: float, above: float, below: float, points: Iterable[Vector], columns: int) -> Ground:
    """A grid over 0 <= x <= span and -below <= y <= above, always with y = 0, and ``points`` added to it.

    Bars that run through another joint of the grid are left out: the shorter ones do the same.
    """
    columns = max(2, columns)
    while columns > 2 and (columns + 1) * (sum(_rows(span / columns, above, below)) + 1) > MOST_JOINTS:
        columns -= 1
    up, down = _rows(span / columns, above, below)
    across = [span * i / columns for i in range(columns + 1)]
    heights = [-below * j / down for j in range(down, 0, -1)] + [0.0] + [above * j / up for j in range(1, up + 1)]
    cells = np.array([(i, j - down) for i in range(columns + 1) for j in range(len(heights))], float)
    joints = np.array([(x, y) for x in across for y in heights], float)
    for x, y, *_ in points:
        cell = np.array([x * columns / span, _level(y, above, below, up, down)])
        if np.abs(cells - cell).max(axis=1).min() > SAME:
            cells, joints = np.vstack((cells, cell)), np.vstack((joints, (x, y)))
    return _joined(joints, cells, (columns, up + down))


def number_of(ground: Ground, point: Vector) -> int:
    """The joint that stands at a point."""
    return int(np.argmin(np.hypot(*(ground.joints - np.array(point[:2])).T)))


def free_directions(count: int, held: dict[int, Support]) -> tuple[Integers, Floats]:
    """Where joints can move: the joint (k,) and the unit vector (k, 2) of each free direction."""
    joints: list[int] = []
    vectors: list[Vector] = []
    for joint in range(count):
        fixed = held[joint].held if joint in held else ()
        ways: tuple[Vector, ...] = ((1.0, 0.0), (0.0, 1.0))
        if fixed:
            ways = ((-fixed[0][1], fixed[0][0]),) if len(fixed) == 1 else ()
        joints += [joint] * len(ways)
        vectors += ways
    return np.array(joints, int), np.array(vectors, float).reshape(-1, 2)


def equilibrium(ground: Ground, directions: tuple[Integers, Floats]) -> Any:
    """Sparse matrix (k, m): what a unit tension in each bar asks of the load in each free direction."""
    from scipy.sparse import csc_matrix

    joints, vectors = directions
    count, bars = len(ground.joints), np.arange(len(ground.starts))
    ends = np.concatenate((ground.starts, ground.ends))
    pulls = np.concatenate((-ground.along, ground.along))
    rows = np.concatenate((2 * ends, 2 * ends + 1))
    values = np.concatenate((pulls[:, 0], pulls[:, 1]))
    every = csc_matrix((values, (rows, np.tile(bars, 4))), shape=(2 * count, len(bars)))
    ways = np.repeat(np.arange(len(joints)), 2), np.column_stack((2 * joints, 2 * joints + 1)).ravel()
    return (csc_matrix((vectors.ravel(), ways), shape=(len(joints), 2 * count)) @ every).tocsc()


def _rows(cell: float, above: float, below: float) -> tuple[int, int]:
    """Cells above and below the deck line, as near to square as the depth allows."""
    up, down = (max(LEAST_ROWS, round(depth / cell)) if depth > 0 else 0 for depth in (above, below))
    return up, down


def _level(y: float, above: float, below: float, up: int, down: int) -> float:
    """A height counted in cells."""
    if y >= 0:
        return y * up / above if above > 0 else y
    return y * down / below if below > 0 else y


def _joined(joints: Floats, cells: Floats, grid: tuple[int, int]) -> Ground:
    starts, ends = np.triu_indices(len(joints), 1)
    steps = cells[ends] - cells[starts]
    whole = np.all(steps == np.round(steps), axis=1)
    once = ~whole | (np.gcd(*np.abs(np.round(steps)).astype(int).T) == 1)
    starts, ends, steps = starts[once], ends[once], steps[once]
    apart = joints[ends] - joints[starts]
    lengths = np.hypot(apart[:, 0], apart[:, 1])
    near = np.abs(steps).max(axis=1) <= NEAR
    return Ground(joints, starts, ends, lengths, apart / lengths[:, None], near, grid)
