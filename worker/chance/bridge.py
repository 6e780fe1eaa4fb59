"""The failure load of a bridge whose sticks scatter.

A bridge has ``sides`` like side trusses, each of its own sticks.  In each sample it fails with the first
member of any of them, or as a whole where that comes first, as in the analysis with mean values; what is left
of a redundant truss afterwards is not counted.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from rubric.brief import Brief
from rubric.language import later
from rubric.quantities import STANDARD_GRAVITY
from worker.chance.design import Design
from worker.chance.likeness import BETWEEN_STICKS
from worker.chance.sampling import common_parts, generator
from worker.demand import Demand, demand
from worker.statics import Solution
from worker.statics.structure import Floats, Indices
from worker.strength.scatter import Scatter
from worker.truss.model import Truss

SAMPLES = 2000
LOW, MEDIAN, HIGH = 0.1, 0.5, 0.9
TWENTY = tuple((i + 0.5) / 20 for i in range(20))

WHOLE = later("the truss as a whole")
"""What stands in the place of a member where a bridge gives way as a whole; ``_`` says it."""

DIGITS = 4
"""Significant digits of what is reported: the last bits of exp() differ between machines, these do not."""

AT_ONCE = 500
"""Samples in one pass: bounds the memory, and its arrays mostly stay in the processor's cache."""


@dataclass(frozen=True)
class FailureLoads:
    """What the whole bridge carries, as chance has it.

    low_N, median_N, high_N: 10 %, 50 % and 90 % of such bridges fail at or below these loads
    chance:                  part of such bridges that carry the target
    fails_first:             part of such bridges in which a member, in any side truss, or WHOLE fails first;
                             the most frequent stands first, members that never do are left out
    efficiency:              the same three parts of failure load / weight; None without mass
    samples:                 how many bridges were tried
    twenty_N:                failure loads of twenty bridges that stand for all: the 2.5 %, 7.5 %, ... 97.5 % quantiles
    """

    low_N: float
    median_N: float
    high_N: float
    chance: float
    fails_first: Mapping[str, float]
    efficiency: tuple[float, float, float] | None
    samples: int
    twenty_N: tuple[float, ...]


def failure_loads(
    truss: Truss,
    solution: Solution,
    brief: Brief,
    scatter: Scatter,
    seed: int,
    samples: int = SAMPLES,
    between_sticks: float = BETWEEN_STICKS,
    asked: Demand | None = None,
    whole: float = math.inf,
) -> FailureLoads | None:
    """Try ``samples`` bridges of one design; None for a mechanism, or where no member carries anything.

    ``truss`` carries the sections and one side's share of the target load, and ``solution`` is its
    solution with mean values; ``asked`` is the demand, found out where it is None.  A member counts as
    one stick, also where several are glued side by side.  Forces grow with the load, as in
    ``worker/strength/bridge.py``: no settlements, no misfits.  Self-weight is that of mean density, and
    rigid joints share forces out as with mean stiffness, in every bridge.  ``whole`` is the load factor at
    which the most loaded side truss gives way as a whole with mean stiffness; it grows with the stiffness that
    the sticks of a bridge have in common.  Same arguments, same answer.
    """
    if not any(solution.forces.values()):
        return None
    asked = asked or demand(truss, solution, brief)
    design = Design.of(truss, solution.degree > 0, asked, brief, scatter, between_sticks)
    rng = generator(seed)
    common = common_parts(rng, samples)
    passes = np.array_split(common, -(-samples // AT_ONCE), axis=1)
    used, first = (np.concatenate(part) for part in zip(*(design.tried(rng, p) for p in passes), strict=True))
    masses_g = design.masses_g(rng, common)
    gives_way = 1 / (whole * design.stiffness(rng, common)) if math.isfinite(whole) else np.zeros(samples)
    first = np.where(gives_way > used, len(truss.members), first)
    return _summary(truss, brief, np.maximum(used, gives_way), first, masses_g)


def _summary(truss: Truss, brief: Brief, used: Floats, first: Indices, masses_g: Floats) -> FailureLoads:
    """From 1 over the load factor at which each bridge fails, the row of what fails first, and the masses, (n,)."""
    names = [*(member.name for member in truss.members), WHOLE]
    loads_N = brief.load.target_N / used
    low, median, high = _three(loads_N)
    count = np.bincount(first, minlength=len(names)).tolist()
    often = sorted((index for index, times in enumerate(count) if times), key=lambda index: -count[index])
    return FailureLoads(
        low_N=low,
        median_N=median,
        high_N=high,
        chance=float(np.mean(used <= 1.0)),
        fails_first={names[index]: count[index] / len(used) for index in often},
        efficiency=_three(loads_N / (masses_g * 1e-3 * STANDARD_GRAVITY)) if masses_g.all() else None,
        samples=len(used),
        twenty_N=_quantiles(loads_N, TWENTY),
    )


def _three(values: Floats) -> tuple[float, float, float]:
    """The 10 %, 50 % and 90 % quantiles."""
    low, median, high = _quantiles(values, (LOW, MEDIAN, HIGH))
    return low, median, high


def _quantiles(values: Floats, parts: tuple[float, ...]) -> tuple[float, ...]:
    """To DIGITS."""
    return tuple(float(f"{value:.{DIGITS}g}") for value in np.quantile(values, parts))
