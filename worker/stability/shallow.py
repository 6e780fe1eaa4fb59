"""Is a truss so shallow that its loads may snap it through?  A first guess, before any path is followed."""

from __future__ import annotations

import numpy as np

from worker.stability.bars import Bars, deformed, softening
from worker.stability.freedoms import refuse_unknown_stiffness
from worker.statics.structure import Floats, Structure
from worker.truss.model import Truss

WORTH_FOLLOWING = 4.0
"""The path is worth following where the guess is below this many times the loads of interest.

Stiffness that falls off in proportion to the load reaches zero at the guess; on a path that bends over
like a parabola the limit point comes at half of it, for shallow two-bar trusses at 0.58 of it.
Twice that is kept in hand.
"""

NOTHING = 1e-12
"""An eigenvalue below this part of the largest is rounding."""

SINGULAR = 1e-7
"""A pivot of Cholesky's factor below this part of the largest means a mechanism; rounding leaves about 1e-8."""


def snap_estimate(truss: Truss) -> float | None:
    """Factor on the loads at which the stiffness would vanish if it went on changing as it begins to.

    Bars that turn count as well as bars that push, so it sees shallow trusses, which linear buckling
    does not.  None where the loads stiffen the truss or do nothing.
    Raises StiffnessMissing, and ValueError for a mechanism.
    """
    structure = Structure.of(truss)
    refuse_unknown_stiffness(structure)
    return estimate(Bars.of(structure))


def is_shallow(truss: Truss, up_to: float = 1.0) -> bool:
    """Whether the loads, up to ``up_to`` times those given, may snap the truss through: then follow the path.

    Costs about as much as one linear buckling factor.  Raises as ``snap_estimate``.
    """
    guess = snap_estimate(truss)
    return guess is not None and guess < WORTH_FOLLOWING * up_to


def estimate(bars: Bars) -> float | None:
    """``snap_estimate`` of bars."""
    if not bars.loads.size or not np.any(bars.loads):
        return None
    K = deformed(bars, np.zeros(len(bars.loads))).tangent
    root = _root(K)
    linear: Floats = np.linalg.solve(K, bars.loads).astype(np.float64)
    change = -softening(bars, linear)
    half = np.linalg.solve(root, change)
    rates = np.linalg.eigvalsh(np.linalg.solve(root, half.T))
    return 1 / float(rates[-1]) if rates[-1] > NOTHING * np.abs(rates).max() else None


def _root(K: Floats) -> Floats:
    """Cholesky's factor; raises ValueError where the truss is a mechanism."""
    try:
        root = np.linalg.cholesky(K)
    except np.linalg.LinAlgError:
        root = np.zeros_like(K)
    pivots = np.diag(root)
    if pivots.min() <= SINGULAR * pivots.max():
        raise ValueError("the truss is a mechanism: it moves under no load at all, so it has no limit load")
    return np.asarray(root, dtype=np.float64)
