"""The load-test rig: from what its display shows to the load on the bridge.

.. code-block:: yaml

    rig:
      name: Lever and spring scale
      unit: kg
      tare: 0.4
      gear: 250 g
      calibrated: 2027-03-18 10:00
      good for: 30 days
      points: [[0.4, 0], [10.3, 10], [20.4, 20], [40.2, 40]]
      most: 400 N

``tare`` is what the display shows with nothing on the bridge.  ``gear`` is what hangs on the bridge and is not
shown: a hook, a bucket.  Each of the ``points`` is a reading and the true value that belongs to it, both in
``unit``; a straight line is laid through them.  Without points the display is believed.  A display that reads
20.4 kg here thus means 20.09 kg on the line, and with 0.25 kg of gear 199.4 N on the bridge.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Annotated, Any, Literal, get_args

from pydantic import Field, model_validator

from rubric.brief import Moment
from rubric.language import _, later
from rubric.problems import quoted
from rubric.quantities import STANDARD_GRAVITY, number
from rubric.shapes import Force, Mass, Minutes, Pure, Shape, Words, choice, fault
from rubric.wording import localised
from rubric.written import plain_number, reads

Unit = Literal["N", "kg"]

FEWEST_POINTS, MOST_POINTS = 3, 40
"""Through two points a straight line always passes, and says nothing of how good it is."""


def _points(value: Any) -> tuple[tuple[float, float], ...]:
    pairs = [_pair(one) for one in value] if isinstance(value, list | tuple) else []
    known = [pair for pair in pairs if pair]
    if value in ([], ()):
        return ()
    if len(known) < len(pairs) or not FEWEST_POINTS <= len(known) <= MOST_POINTS:
        raise fault(
            quoted(str(value)),
            _(
                "{least} to {most} pairs of a reading and its true value, plain numbers in the rig's unit",
                least=FEWEST_POINTS,
                most=MOST_POINTS,
            ),
            _("write for example 'points: [[0, 0], [10.2, 10], [20.1, 20]]'."),
        )
    if len({reading for reading, _ in known}) < FEWEST_POINTS:
        raise fault(
            _("readings that are all but the same"),
            _("three or more different readings"),
            _("calibrate further apart."),
        )
    return tuple(known)


def _pair(value: Any) -> tuple[float, float] | None:
    if not isinstance(value, list | tuple) or len(value) != 2:
        return None
    one, other = (float(v) if isinstance(v, float | int) else number(str(v)) for v in value)
    return (one, other) if one is not None and other is not None else None


_POINTS = {
    "type": "array",
    "maxItems": MOST_POINTS,
    "anyOf": [{"maxItems": 0}, {"minItems": FEWEST_POINTS}],
    "items": {"type": "array", "items": plain_number(), "minItems": 2, "maxItems": 2},
}


class Rig(Shape):
    """See the module's docstring, which is the page the coordinator reads."""

    name: Words = Field(later("The rig"), description=later("what it is called"), examples=["Lever and spring scale"])
    unit: Annotated[Unit, choice(*get_args(Unit))] = Field(
        "N", description=later("what the display shows, N or kg"), examples=["kg"]
    )
    tare: Pure = Field(
        0.0, description=later("what it shows with nothing on the bridge, in its unit"), examples=["0.4"]
    )
    gear_g: Mass = Field(0.0, description=later("what hangs on the bridge and is not shown"), examples=["250 g"])
    gravity: Pure = Field(
        STANDARD_GRAVITY, description=later("m/s2, from 9.7 to 9.9"), examples=["9.81"], ge=9.7, le=9.9
    )
    calibrated: Moment | None = Field(
        None, description=later("when the points were taken"), examples=["2027-03-18 10:00"]
    )
    good_for_min: Minutes = Field(
        30 * 1440.0, description=later("how long a calibration is trusted"), examples=["30 days"]
    )
    points: Annotated[tuple[tuple[float, float], ...], reads(_points, _POINTS)] = Field(
        (), description=later("pairs of a reading and its true value"), examples=["[[0, 0], [10.2, 10], [20.1, 20]]"]
    )
    most_N: Force = Field(description=later("the load at which every test stops"), examples=["400 N"])

    @model_validator(mode="after")
    def _hangs_together(self) -> Rig:
        if self.points and self.calibrated is None:
            raise fault(
                _("calibration points without a date"),
                _("when they were taken"),
                _("add for example 'calibrated: 2027-03-18'."),
                "points",
            )
        if self.points and self.line.slope <= 0:
            raise fault(
                _("points whose true value falls while the reading rises"),
                _("a display that goes up with the load"),
                _("check the order within the pairs: the reading comes first."),
                "points",
            )
        return self

    @property
    def line(self) -> Line:
        """True value over reading less tare, both in the rig's unit."""
        return fit([(reading - self.tare, true) for reading, true in self.points]) if self.points else Line(0.0, 1.0)

    @property
    def newtons(self) -> float:
        """Newtons in one of the rig's unit."""
        return self.gravity if self.unit == "kg" else 1.0

    def load_N(self, reading: float, unit: str = "") -> float:
        """The load on the bridge, N, where the display shows ``reading``.

        Parameters
        ----------
        unit
            What the reading was written in, N or kg; the rig's own where left out.
        """
        shown = reading * {"N": 1.0, "kg": self.gravity}[unit or self.unit] / self.newtons
        return self.line.at(shown - self.tare) * self.newtons + self.gear_g / 1000 * self.gravity

    def doubts(self, moment: datetime) -> tuple[str, ...]:
        """What to say before its readings are trusted, at a moment on the school's own clock."""
        if not self.points:
            return (_("The rig has no calibration points: what its display shows is taken as it is."),)
        assert self.calibrated is not None
        said = []
        age = (moment - self.calibrated).total_seconds() / 60
        if age > self.good_for_min:
            said.append(
                _(
                    "The calibration is {age} days old and is trusted for {days}. "
                    "Hang known weights on the rig and write down new points.",
                    age=math.floor(age / 1440),
                    days=localised(f"{self.good_for_min / 1440:g}"),
                )
            )
        largest = max(true for __, true in self.points) * self.newtons
        if self.most_N > 1.1 * largest:
            said.append(
                _(
                    "The calibration ends at {end} N and tests stop at {stop} N: "
                    "loads beyond it are guessed along the line.",
                    end=f"{largest:.0f}",
                    stop=f"{self.most_N:.0f}",
                )
            )
        if self.line.scatter > 0.02 * max(abs(true) for __, true in self.points):
            said.append(
                _(
                    "The calibration points lie {scatter} N off their line, over 2 % of the largest. "
                    "Look for friction or a slipping scale.",
                    scatter=localised(f"{self.line.scatter * self.newtons:.1f}"),
                )
            )
        return tuple(said)


@dataclass(frozen=True)
class Line:
    """A straight line and how far off it the points lie (``scatter``), all in the unit of the values."""

    start: float
    slope: float
    scatter: float = 0.0
    farthest: float = 0.0

    def at(self, x: float) -> float:
        """The value at ``x``."""
        return self.start + self.slope * x


def fit(points: Sequence[tuple[float, float]]) -> Line:
    """The straight line of least squares through three or more points.

    The scatter is the residual standard deviation, with n - 2 in the denominator; the formulas are those of the
    NIST/SEMATECH e-Handbook of Statistical Methods, section 4.1.4.1 (linear least squares).
    """
    n = len(points)
    mean_x, mean_y = sum(x for x, _ in points) / n, sum(y for _, y in points) / n
    spread = sum((x - mean_x) ** 2 for x, _ in points)
    slope = sum((x - mean_x) * (y - mean_y) for x, y in points) / spread
    start = mean_y - slope * mean_x
    off = [y - start - slope * x for x, y in points]
    return Line(start, slope, math.sqrt(sum(r * r for r in off) / (n - 2)), max(abs(r) for r in off))
