"""A straight-line scale: points rise or fall in a straight line between the numbers you give.

.. code-block:: yaml

    - name: Efficiency
      kind: scale
      measure: efficiency
      earns: {100: 0, 300: 15, 500: 20}
      points: 20

An efficiency of 200 lies half way between 100 and 300 and earns 7.5 points.  Below the first
number it earns what the first number earns, beyond the last what the last earns.  The measure
must rise from left to right, and the best entry must be worth the criterion's points.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any, Literal

from pydantic import Field, model_validator

from rubric.criteria.common import (
    Criterion,
    CriterionMark,
    Judgements,
    MeasureName,
    goal_said,
    in_units_of,
    not_measured,
    points_said,
    said,
)
from rubric.evidence import Evidence
from rubric.measures import CATALOGUE, Measure
from rubric.problems import quoted
from rubric.quantities import number
from rubric.shapes import fault
from rubric.wording import amount, points

Corner = tuple[float, float]


class Scale(Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["scale"]
    measure: MeasureName = Field(description="a measure of the catalogue", examples=["efficiency"])
    earns: tuple[Corner, ...] = Field(
        description="points for at least two values of the measure", examples=["{100: 0, 400: 20}"]
    )

    @model_validator(mode="before")
    @classmethod
    def _corners(cls, data: Any) -> Any:
        if not isinstance(data, dict) or not isinstance(data.get("earns"), dict):
            return data
        measure = CATALOGUE.get(str(data.get("measure")))
        if measure is None:  # told by the field itself; without a measure its numbers mean nothing
            return {**data, "earns": ()}
        return {**data, "earns": [(in_units_of(measure, k), _worth(v)) for k, v in data["earns"].items()]}

    @model_validator(mode="after")
    def _straight(self) -> Scale:
        values = [value for value, _ in self.earns]
        if len(values) < 2:
            raise fault("a scale with one number", "at least two", "write for example 'earns: {100: 0, 400: 20}'.")
        if any(b <= a for a, b in pairwise(values)):
            raise fault(
                "a scale that runs backwards",
                "the measure rising from left to right",
                "put the smallest first.",
            )
        best = max(worth for _, worth in self.earns)
        if best != self.points:
            raise fault(
                f"a scale whose best is {points_said(best)} in a criterion of {points_said(self.points)}",
                "the two to agree",
                "change 'points' or the scale.",
            )
        return self

    @property
    def asked(self) -> str:
        unit = CATALOGUE[self.measure].unit
        return "; ".join(f"{amount(value, unit)} earns {points(worth)}" for value, worth in self.earns)

    def mark(self, evidence: Evidence, judgements: Judgements) -> CriterionMark:
        """Straight-line interpolation, exact at the given numbers."""
        measure = CATALOGUE[self.measure]
        value = evidence.measures.get(self.measure)
        if value is None:
            return not_measured(self, measure, evidence)
        earned = interpolate(self.earns, value)
        return CriterionMark(
            name=self.name,
            kind=self.kind,
            points=earned,
            out_of=self.points,
            seen=said(measure, value),
            asked=self.asked,
            why=self._why(measure, value),
            earn_more="" if earned >= self.points else self._goal(measure, value),
        )

    def _why(self, measure: Measure, value: float) -> str:
        below = [corner for corner in self.earns if corner[0] <= value]
        above = [corner for corner in self.earns if corner[0] > value]
        if not above:
            return f"That is at or beyond {amount(below[-1][0], measure.unit)}, the end of the scale."
        if not below:
            return f"That is below {amount(above[0][0], measure.unit)}, where the scale begins."
        return f"That lies between {amount(below[-1][0], measure.unit)} and {amount(above[0][0], measure.unit)}."

    def _goal(self, measure: Measure, value: float) -> str:
        best = [corner for corner in self.earns if corner[1] == self.points]
        goal = min(best, key=lambda corner: abs(corner[0] - value))[0]
        return goal_said(measure, value, goal, f"all {points_said(self.points)}")


def interpolate(corners: tuple[Corner, ...], value: float) -> float:
    """Points at ``value`` on the line through ``corners``, flat beyond both ends, to 0.01."""
    if value <= corners[0][0]:
        return corners[0][1]
    for (left, low), (right, high) in pairwise(corners):
        if value <= right:
            return round(low + (high - low) * (value - left) / (right - left), 2)
    return corners[-1][1]


def _worth(value: Any) -> float:
    given = value if isinstance(value, float | int) else number(str(value))
    if given is None or not 0 <= given <= 1000 or round(given, 2) != given:
        raise fault(quoted(str(value)), "points from 0 to 1000, to 0.01", "write a plain number.")
    return float(given)
