"""A count: how many there are of a thing, such as joints, members, sticks or distinct lengths.

.. code-block:: yaml

    - name: Simple to build
      kind: count
      of: distinct lengths
      at most: 4
      each takes: 2
      points: 10

A truss with members of 4 lengths earns the 10 points; one with 6 lengths is 2 over and earns 6; one with
10 earns none.  Write ``exactly`` in place of ``at most`` where too few is wrong as well.  Without
``each takes`` one too many takes all.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from rubric.criteria.common import Criterion, Found, Judgements, points_said
from rubric.criteria.measured import goal_said, not_measured, said, worth
from rubric.evidence import Evidence
from rubric.language import _, later
from rubric.measures import CATALOGUE, COUNTED
from rubric.problems import quoted
from rubric.shapes import Count as WholeNumber
from rubric.shapes import fault
from rubric.spelling import did_you_mean
from rubric.wording import figure
from rubric.written import reads


def _thing(value: Any) -> str:
    if isinstance(value, str) and value in COUNTED:
        return value
    raise fault(quoted(str(value)), _("a thing that can be counted"), did_you_mean(str(value), COUNTED))


Thing = Annotated[str, reads(_thing, {"enum": list(COUNTED)})]


class Count(Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["count"]
    of: Thing = Field(description=later("what is counted"), examples=["joints"])
    at_most: WholeNumber | None = Field(None, description=later("how many there may be"), examples=["12"])
    exactly: WholeNumber | None = Field(None, description=later("how many there must be"), examples=["12"])
    each_takes: float | None = Field(None, description=later("the points that each one over takes"), examples=["2"])

    @model_validator(mode="before")
    @classmethod
    def _takes(cls, data: Any) -> Any:
        if not isinstance(data, dict) or data.get("each takes") is None:
            return data
        return {**data, "each takes": worth(data["each takes"], data.get("points"), "each takes")}

    @model_validator(mode="after")
    def _one_number(self) -> Count:
        if (self.at_most is None) == (self.exactly is None):
            raise fault(
                _("neither 'at most' nor 'exactly'") if self.at_most is None else _("both 'at most' and 'exactly'"),
                _("one of the two"),
                _("write for example 'at most: 12'."),
            )
        if self.each_takes is not None and not 0 < self.each_takes <= self.points:
            raise fault(
                _(
                    "{points} for each one over in a criterion of {whole}",
                    points=points_said(self.each_takes),
                    whole=points_said(self.points),
                ),
                _("more than 0, and no more than its points"),
                _("change 'each takes' or 'points'."),
                "each takes",
            )
        return self

    @property
    def measure(self) -> str:
        """The measure that it looks at."""
        return self.of

    @property
    def _goal(self) -> int:
        goal = self.at_most if self.at_most is not None else self.exactly
        assert goal is not None
        return goal

    @property
    def asked(self) -> str:
        if self.at_most is not None:
            said, off = _("at most {number}", number=self.at_most), _("each one more takes {points}")
        else:
            said, off = _("exactly {number}", number=self.exactly), _("each one more or less takes {points}")
        takes = self.points if self.each_takes is None else self.each_takes
        return said if takes == self.points else f"{said}; {off.format(points=points_said(takes))}"

    def find(self, evidence: Evidence, judgements: Judgements) -> Found:
        """All points where the count is right, less for each one off."""
        measure = CATALOGUE[self.of]
        value = evidence.measures.get(self.of)
        if value is None:
            return not_measured(self, measure, evidence)
        over = value - self._goal
        off = max(over, 0.0) if self.at_most is not None else abs(over)
        if not off:
            return Found(self.points, said(measure, value), _("That is what was asked."))
        takes = self.points if self.each_takes is None else self.each_takes
        return Found(
            max(0.0, round(self.points - off * takes, 2)),
            said(measure, value),
            (_("That is {count} too many.") if over > 0 else _("That is {count} too few.")).format(count=figure(off)),
            goal_said(self, measure, value, float(self._goal)),
        )
