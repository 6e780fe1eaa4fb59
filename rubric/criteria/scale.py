"""A straight-line scale: points rise or fall in a straight line between the numbers you give.

.. code-block:: yaml

    - name: Efficiency
      kind: scale
      measure: efficiency
      earns: {100: 0, 300: 15, 500: 20}
      points: 20

An efficiency of 200 lies half way between 100 and 300 and earns 7.5 points; one of 80 earns none.
Below the first number it earns what the first number earns, beyond the last what the last earns.  The
measure must rise from left to right, and the best entry must be worth the criterion's points.  Points
may be written as parts of them: ``{100: 0 %, 500: 100 %}``.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Any, Literal

from pydantic import Field, WithJsonSchema, model_validator

from rubric.criteria.common import Criterion, Found, Judgements
from rubric.criteria.measured import MeasureName, best_is, goal_said, in_units_of, not_measured, said, worth
from rubric.evidence import Evidence
from rubric.language import _, later
from rubric.measures import CATALOGUE, Measure
from rubric.shapes import fault
from rubric.wording import amount, points
from rubric.written import block, points_or_part

Corner = tuple[float, float]


_CORNERS = block(points_or_part(), least=2, keys={"pattern": r"^ *[+-]?[0-9.]"})


class Scale(Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["scale"]
    measure: MeasureName = Field(description=later("a measure of the catalogue"), examples=["efficiency"])
    earns: Annotated[tuple[Corner, ...], WithJsonSchema(_CORNERS)] = Field(
        description=later("points for at least two values of the measure"), examples=["{100: 0, 400: 20}"]
    )

    @model_validator(mode="before")
    @classmethod
    def _corners(cls, data: Any) -> Any:
        if not isinstance(data, dict) or not isinstance(data.get("earns"), dict):
            return data
        measure = CATALOGUE.get(str(data.get("measure")))
        if measure is None:  # told by the field itself; without a measure its numbers mean nothing
            return {**data, "earns": ()}
        return {
            **data,
            "earns": [
                (in_units_of(measure, value, "earns"), worth(earned, data.get("points"), "earns", value))
                for value, earned in data["earns"].items()
            ],
        }

    @model_validator(mode="after")
    def _straight(self) -> Scale:
        if len(self.earns) < 2:
            raise fault(
                _("a scale with one number"),
                _("at least two"),
                _("write for example 'earns: {100: 0, 400: 20}'."),
                "earns",
            )
        if any(b[0] <= a[0] for a, b in pairwise(self.earns)):
            raise fault(
                _("a scale that runs backwards"),
                _("the measure rising from left to right"),
                _("put the smallest first."),
                "earns",
            )
        best_is(max(earned for _, earned in self.earns), self.points, _("a scale"), "earns")
        return self

    @property
    def asked(self) -> str:
        unit = CATALOGUE[self.measure].unit
        return "; ".join(earns_said(amount(value, unit), earned) for value, earned in self.earns)

    def find(self, evidence: Evidence, judgements: Judgements) -> Found:
        """Straight-line interpolation, exact at the given numbers."""
        measure = CATALOGUE[self.measure]
        value = evidence.measures.get(self.measure)
        if value is None:
            return not_measured(self, measure, evidence)
        earned = interpolate(self.earns, value)
        more = "" if earned >= self.points else self._goal(measure, value)
        return Found(earned, said(measure, value), where(self.earns, measure, value), more)

    def _goal(self, measure: Measure, value: float) -> str:
        best = [corner for corner in self.earns if corner[1] == self.points]
        goal = min(best, key=lambda corner: abs(corner[0] - value))[0]
        return goal_said(self, measure, value, goal)


def where(corners: tuple[Corner, ...], measure: Measure, value: float) -> str:
    """Where on the scale ``value`` lies, in a sentence."""
    below = [corner for corner in corners if corner[0] <= value]
    above = [corner for corner in corners if corner[0] > value]
    if not above:
        return _("That is at or beyond {end}, the end of the scale.", end=amount(below[-1][0], measure.unit))
    if not below:
        return _("That is below {start}, where the scale begins.", start=amount(above[0][0], measure.unit))
    low, high = amount(below[-1][0], measure.unit), amount(above[0][0], measure.unit)
    return _("That lies between {low} and {high}.", low=low, high=high)


def earns_said(value: str, earned: float) -> str:
    """``300 earns 20``."""
    return _("{value} earns {points}", value=value, points=points(earned))


def interpolate(corners: tuple[Corner, ...], value: float) -> float:
    """Points at ``value`` on the line through ``corners``, flat beyond both ends, to 0.01."""
    if value <= corners[0][0]:
        return corners[0][1]
    for (left, low), (right, high) in pairwise(corners):
        if value <= right:
            return round(low + (high - low) * (value - left) / (right - left), 2)
    return corners[-1][1]
