"""Prediction and measurement: one factor for a whole class, in spite of bridges that failed by their glue.

The factor is the median of measured over predicted load.  Its interval needs no assumption on how the loads
scatter: it runs between two of the ordered ratios, counted in from either end by the binomial distribution
(W. R. Thompson, Annals of Mathematical Statistics 7, 1936, 122-128; the interval of the sign test).  Up to half of all
bridges may have gone wrong without carrying the factor away.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist, median

from rubric.language import later

CONFIDENCE = 0.95
FEWEST = 6
"""With fewer bridges no interval of 95 % exists: 1 - 2 / 2**5 is 94 %."""

_NORMAL = NormalDist()
EIGHT_OF_TEN = _NORMAL.inv_cdf(0.9)
"""Standard deviations to either side of the middle that hold 8 of 10 of a normal distribution."""

QUARTILE = _NORMAL.inv_cdf(0.75)
"""Median absolute deviation over standard deviation of a normal distribution."""


@dataclass(frozen=True)
class Factor:
    """Measured over predicted: the factor, the ends of its interval, and how single bridges scatter about it."""

    bridges: int
    factor: float
    low: float
    high: float
    spread_low: float
    """8 of 10 bridges lie between ``spread_low`` and ``spread_high``."""
    spread_high: float
    confidence: float
    """What the interval holds: 0.95 or a little more."""

    def differs(self) -> bool:
        """Whether the prediction was off by more than chance."""
        return not self.low <= 1 <= self.high


def class_factor(pairs: Sequence[tuple[float, float]]) -> Factor | None:
    """The factor of pairs of predicted and measured load, both above 0 N; None for fewer than six."""
    ratios = sorted(measured / predicted for predicted, measured in pairs if predicted > 0 and measured > 0)
    n = len(ratios)
    if n < FEWEST:
        return None
    rank, confidence = _rank(n)
    logs = [math.log(ratio) for ratio in ratios]
    middle = median(logs)
    spread = median(abs(value - middle) for value in logs) / QUARTILE
    return Factor(
        n,
        median(ratios),
        ratios[rank - 1],
        ratios[n - rank],
        math.exp(middle - EIGHT_OF_TEN * spread),
        math.exp(middle + EIGHT_OF_TEN * spread),
        confidence,
    )


def _rank(n: int) -> tuple[int, float]:
    """How far in from either end the interval begins, counted from 1, and what it then holds."""
    outside, rank, confidence = 0.0, 0, 1.0
    while True:
        outside += math.comb(n, rank) / 2**n
        if 1 - 2 * outside < CONFIDENCE:
            return rank, confidence
        rank, confidence = rank + 1, 1 - 2 * outside


@dataclass(frozen=True)
class Proposal:
    """A strength for the next brief, proposed and never applied by itself."""

    mode: str
    what: str
    factor: Factor


STRENGTH_OF = {
    "tension": later("the tensile strength"),
    "crushing": later("the compressive strength"),
    "buckling": later("the modulus of elasticity"),  # the buckling force is in proportion to it
    "bending": later("the bending strength"),
    "joint": later("the strength of the glue"),
}


def proposals(broken: Sequence[tuple[str, float, float]]) -> tuple[Proposal, ...]:
    """What to multiply, by mode: of bridges that broke in the mode that was predicted.

    Parameters
    ----------
    broken
        The mode, the predicted and the measured load of each such bridge.
    """
    found = []
    for mode, what in STRENGTH_OF.items():
        factor = class_factor([(predicted, measured) for one, predicted, measured in broken if one == mode])
        if factor is not None and factor.differs():
            found.append(Proposal(mode, what, factor))
    return tuple(found)
