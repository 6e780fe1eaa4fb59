"""The column curves of ``worker/strength/columns.py`` for many struts at once.

Each gives buckling stress over crushing stress, of the square of the relative slenderness
x = (l / pi)^2 fc / E: in that variable no curve asks for E or fc any more.  Sources stand beside
the curves for one strut; a test holds the two alike.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from rubric.brief import ColumnCurve
from worker.statics.structure import Floats
from worker.strength.columns import SAWN, SOLID_TIMBER, STOCKY


def euler_johnson(x: Floats) -> Floats:
    """Euler's 1 / x from x = 2 on, below it Johnson's 1 - x / 4."""
    return np.where(x >= 2.0, 1.0 / np.maximum(x, 2.0), 1.0 - x / 4)


def en_1995(x: Floats) -> Floats:
    """kc of EN 1995-1-1, eq. 6.25 to 6.29."""
    k = 0.5 * (1.0 + SOLID_TIMBER * (np.sqrt(x) - STOCKY) + x)
    return np.where(x <= STOCKY**2, 1.0, 1.0 / (k + np.sqrt(np.maximum(k**2 - x, 0.0))))


def nds(x: Floats) -> Floats:
    """C_P of the NDS 2018, eq. 3.7-1, with FcE / Fc* = 12 x 0.822 / (pi^2 x)."""
    ratio = 12 * 0.822 / math.pi**2 / x
    half = (1.0 + ratio) / (2 * SAWN)
    return ratio / SAWN / (half + np.sqrt(half**2 - ratio / SAWN))


FACTORS: dict[ColumnCurve, Callable[[Floats], Floats]] = {
    "Euler and Johnson": euler_johnson,
    "EN 1995-1-1": en_1995,
    "NDS": nds,
}
"""By the brief's word for the curve."""
