"""One answer beside the truth: right, rounded too far, right but for a unit, the right sense, or wrong."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rubric.criteria.working import Working as Criterion
from rubric.evidence import Verdict
from rubric.language import later
from rubric.quantities import FORCE_UNITS, STANDARD_GRAVITY
from worker.working.sheet import Entry

EXACT = 1e-9
"""Part of the larger number: two that are nearer are the same, whatever the teacher allows."""

LEAST_NEAR = 0.005
"""Part: a slip of units is known within this even where a teacher allows less; g is taken as 9.81 or 9.8."""


ROUGHEST = 0.15
"""Part: farther from the truth a number with few figures may be a slip as well, and 100 no rounded 149."""


WHOLE_ANSWER = 1e-6
"""Part: a truth this near to a number of two figures is that number."""


@dataclass(frozen=True)
class UnitSlip:
    """What an answer is multiplied by to be right, and what that tells; ``_`` says it."""

    factor: float
    told: str


_LBF = FORCE_UNITS["lbf"]
UNIT_SLIPS = (
    UnitSlip(1000.0, later("That is 1000 times too small, as if it were in kN.")),
    UnitSlip(0.001, later("That is 1000 times too large, as if kN had been turned into N.")),
    UnitSlip(STANDARD_GRAVITY, later("That is 9.81 times too small: it looks like kg, which is a mass.")),
    UnitSlip(1 / STANDARD_GRAVITY, later("That is 9.81 times too large: a force in N needs no g.")),
    UnitSlip(STANDARD_GRAVITY / 1000, later("It looks like grams, which are a mass.")),
    UnitSlip(_LBF, later("That is 4.45 times too small: it looks like pounds.")),
    UnitSlip(1 / _LBF, later("That is 4.45 times too large: newtons need no turning into pounds.")),
    UnitSlip(10.0, later("That is 10 times too small: check the decimal point, and kg against N.")),
    UnitSlip(0.1, later("That is 10 times too large: check the decimal point, and kg against N.")),
)
"""Common practice: the slips of units that teachers meet."""

MASS = UnitSlip(1.0, later("A number in g or kg is a mass: give its weight, a force."))
"""The number is right as the weight of the mass that was given."""


@dataclass(frozen=True)
class Reading:
    """How an answer compares by itself; ``unit`` tells which slip of units explains it."""

    verdict: Verdict
    unit: UnitSlip | None = None


def near(value_N: float, criterion: Criterion) -> float:
    """How far from ``value_N`` an answer may lie, N: the wider of the two tolerances."""
    return max(criterion.within * abs(value_N), criterion.or_within_N, EXACT * abs(value_N))


def read(entry: Entry, criterion: Criterion) -> Reading:
    """Compare one answer with the truth, and with nothing else."""
    written, true = entry.written, entry.true_N
    if written is None:
        return Reading("left out")
    same_sense = written.sense * true > 0
    given = written.force_N
    if given is None:
        return Reading("sense" if same_sense else "wrong")
    if abs(given - true) <= near(true, criterion):
        return Reading("unit", MASS) if written.mass else Reading("right")
    if not same_sense:
        return Reading("wrong")
    if not written.mass and _rounds_to(true / written.step_N, given / written.step_N, written.figures):
        return Reading("rounded")
    slip = _unit_slip(true, given, criterion)
    return Reading("unit", slip) if slip else Reading("sense")


def read_sense(entry: Entry) -> Reading:
    """Compare T, C or 0 alone; a size that was written does not count."""
    if entry.written is None:
        return Reading("left out")
    true = math.copysign(1.0, entry.true_N) if entry.true_N else 0.0
    return Reading("right" if entry.written.sense == true else "wrong")


def _rounds_to(true: float, given: float, figures: int) -> bool:
    """Whether ``true``, rounded to so many significant figures, is ``given``; a half may go either way.

    Both are counted in units of the last digit written.  What fewer than three figures tell in full, such as
    45, is not rounded by anybody.
    """
    step = 10.0 ** (math.floor(math.log10(abs(true))) - figures + 1)
    steps = given / step
    if abs(given - true) > ROUGHEST * abs(true) or math.isclose(true, float(f"{true:.1e}"), rel_tol=WHOLE_ANSWER):
        return False
    return abs(steps - round(steps)) < EXACT * abs(steps) and abs(given - true) <= step / 2 * (1 + EXACT)


def _unit_slip(true: float, given: float, criterion: Criterion) -> UnitSlip | None:
    allowed = max(criterion.within, LEAST_NEAR) * abs(true)
    fits = [slip for slip in UNIT_SLIPS if abs(given * slip.factor - true) <= allowed]
    return min(fits, key=lambda slip: abs(given * slip.factor - true), default=None)
