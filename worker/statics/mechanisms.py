"""How the joints of a mechanism move, and which joint of a stable truss moves most easily."""

from __future__ import annotations

import numpy as np

from worker.statics.structure import Floats

STILL = 1e-8
"""A movement below this part of the largest one counts as none."""


def modes(E: Floats, rank: int, d: int) -> Floats:
    """One small movement of all joints, (n, d), for each mechanism; the largest movement is 1.

    They span the left null space of E: no member stretches, nothing moves where it is held.
    Elimination makes each as sparse as it can be beside the others, so that two mechanisms
    in different parts of a truss come out apart.  Shape (mechanisms, n, d).
    """
    left, _, _ = np.linalg.svd(E, full_matrices=True)
    sparse = _eliminated(left[:, rank:].T.copy())
    each: Floats = sparse.reshape(len(sparse), -1, d)
    largest = np.sqrt((each**2).sum(axis=2)).max(axis=1, initial=0.0)
    each = each / largest[:, None, None]
    each[np.abs(each) < STILL] = 0.0
    return each


def moving(each: Floats) -> list[int]:
    """The joints, by row, that move in any of the modes."""
    return [int(joint) for joint in np.flatnonzero(np.any(each != 0.0, axis=(0, 2)))]


def softest(E: Floats, d: int) -> int:
    """The joint, by row, that moves most in the movement for which members stretch least."""
    left, _, _ = np.linalg.svd(E, full_matrices=True)
    return int(np.argmax((left[:, -1].reshape(-1, d) ** 2).sum(axis=1)))


def _eliminated(rows: Floats) -> Floats:
    """Reduced row echelon form with the largest remaining element as pivot; pivots are +1."""
    for index in range(len(rows)):
        rest = np.abs(rows[index:])
        best, pivot = np.unravel_index(int(np.argmax(rest)), rest.shape)
        rows[[index, index + int(best)]] = rows[[index + int(best), index]]
        rows[index] /= rows[index, pivot]
        factors = rows[:, pivot].copy()
        factors[index] = 0.0
        rows -= np.outer(factors, rows[index])
    return rows
