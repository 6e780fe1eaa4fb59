"""A threshold: all the points on the right side of one number, none on the other.

.. code-block:: yaml

    - name: Carries the target load
      kind: threshold
      measure: reserve factor
      at least: 1
      points: 30

A bridge with a reserve factor of 1.2 earns the 30 points; one with 0.8 earns none.
Write ``at least`` or ``at most``, not both.  The number itself counts as reached.
"""

from __future__ import annotations

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
from rubric.measures import CATALOGUE
from rubric.shapes import fault
from rubric.wording import amount

SLACK = 1e-9
"""Relative: a value that differs from the threshold by rounding noise alone has reached it."""


class Threshold(Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["threshold"]
    measure: MeasureName = Field(description="a measure of the catalogue", examples=["failure load"])
    at_least: float | None = Field(None, description="the lowest value that earns", examples=["1"])
    at_most: float | None = Field(None, description="the highest value that earns", examples=["60 g"])

    @model_validator(mode="before")
    @classmethod
    def _numbers_in_units(cls, data: Any) -> Any:
        if not isinstance(data, dict):
            return data
        measure = CATALOGUE.get(str(data.get("measure")))
        if measure is None:  # told by the field itself; without a measure its numbers mean nothing
            return {**data, "at least": None, "at most": None}
        read = {key: in_units_of(measure, data[key]) for key in ("at least", "at most") if data.get(key) is not None}
        if len(read) != 1:
            raise fault(
                "both 'at least' and 'at most'" if read else "neither 'at least' nor 'at most'",
                "one of the two",
                "write for example 'at least: 1'.",
            )
        return {**data, **read}

    @property
    def _bound(self) -> tuple[str, float]:
        if self.at_least is not None:
            return "at least", self.at_least
        assert self.at_most is not None
        return "at most", self.at_most

    @property
    def asked(self) -> str:
        word, bound = self._bound
        return f"{word} {amount(bound, CATALOGUE[self.measure].unit)}"

    def mark(self, evidence: Evidence, judgements: Judgements) -> CriterionMark:
        """All or nothing."""
        measure = CATALOGUE[self.measure]
        word, bound = self._bound
        value = evidence.measures.get(self.measure)
        if value is None:
            return not_measured(self, measure, evidence)
        slack = SLACK * max(abs(bound), abs(value))
        reached = value >= bound - slack if word == "at least" else value <= bound + slack
        gap = f"{amount(abs(bound - value), measure.unit)} too {'low' if word == 'at least' else 'high'}"
        return CriterionMark(
            name=self.name,
            kind=self.kind,
            points=self.points if reached else 0.0,
            out_of=self.points,
            seen=said(measure, value),
            asked=self.asked,
            why="That is what was asked." if reached else f"That is {gap}.",
            earn_more="" if reached else goal_said(measure, value, bound, points_said(self.points)),
        )
