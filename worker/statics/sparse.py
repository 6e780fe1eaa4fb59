"""A basis in which each vector is zero in as many places as it can be.

What has no part in another's movement, or in another's stress, is then shown apart from it.
"""

from __future__ import annotations

import numpy as np

from worker.statics.structure import Floats

ZERO = 1e-8
"""A part below this share of the largest part of its vector counts as none."""

MOST_WORK = 1_000_000
"""Numbers compared in one round of thinning out: beyond it elimination alone has to do."""


def sparse(rows: Floats) -> Floats:
    """The row space of independent ``rows`` (k, c), in a sparse basis (k, c) whose largest parts are +1.

    Elimination first; then, while it helps, each vector loses the part of another that clears the
    most of it.  A basis with the fewest parts of all is hard to find (it is NP-hard), and is not promised.
    """
    rows = _scaled(_eliminated(rows.copy()))
    k, c = rows.shape
    while k * k * c * c <= MOST_WORK and _thinned(rows):
        pass
    return rows


def _thinned(rows: Floats) -> bool:
    """Replace each row by its sparsest difference with another; whether any row got sparser."""
    better = False
    for one in range(len(rows)):
        for other in range(len(rows)):
            shared = np.flatnonzero((rows[one] != 0.0) & (rows[other] != 0.0))
            if one == other or not len(shared):
                continue
            tried = rows[one] - (rows[one, shared] / rows[other, shared])[:, None] * rows[other]
            tried = _scaled(tried)
            parts = np.count_nonzero(tried, axis=1)
            best = int(np.argmin(parts))
            if parts[best] < np.count_nonzero(rows[one]):
                rows[one] = tried[best]
                better = True
    return better


def _scaled(rows: Floats) -> Floats:
    """Each row over its largest part, the first of those that are as large; small parts are 0.0."""
    if not rows.size:
        return rows
    size = np.abs(rows)
    first = np.argmax(size >= (1 - ZERO) * size.max(axis=1, keepdims=True), axis=1)
    rows = rows / rows[np.arange(len(rows)), first][:, None]
    return np.where(np.abs(rows) < ZERO, 0.0, rows)


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
