"""Share of par: how near the bridge comes to the best that there could be.

.. code-block:: yaml

    - name: Near par
      kind: share of par
      none at: 10 %
      full at: 60 %
      points: 20

Par is the efficiency of the lightest bridge that could carry the same load; no real bridge reaches it.
In a straight line from no points at 10 % to all points at 60 %: a bridge with a share of 35 % earns 10
points, one with 8 % earns none.  ``none at`` is 0 % when it is left out.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from rubric.criteria.common import Criterion, Found, Judgements
from rubric.criteria.measured import goal_said, not_measured, said
from rubric.criteria.scale import earns_said, interpolate, where
from rubric.evidence import Evidence
from rubric.language import _, later
from rubric.measures import CATALOGUE
from rubric.shapes import Part, fault
from rubric.wording import amount


class ShareOfPar(Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["share of par"]
    full_at: Part = Field(description=later("the share that earns all points"), examples=["60 %"])
    none_at: Part = Field(0.0, description=later("the share that earns none"), examples=["10 %"])

    @model_validator(mode="after")
    def _rises(self) -> ShareOfPar:
        if self.none_at >= self.full_at:
            raise fault(
                _(
                    "no points at {none} and all at {full}",
                    none=amount(self.none_at, "%"),
                    full=amount(self.full_at, "%"),
                ),
                _("'full at' above 'none at'"),
                _("swap the two, or leave out 'none at'."),
                "full at",
            )
        return self

    @property
    def measure(self) -> str:
        """The measure that it looks at."""
        return "share of par"

    @property
    def asked(self) -> str:
        ends = ((self.none_at, 0.0), (self.full_at, self.points))
        return "; ".join(earns_said(_("{share} of par", share=amount(at, "%")), earned) for at, earned in ends)

    def find(self, evidence: Evidence, judgements: Judgements) -> Found:
        """A straight line from ``none at`` to ``full at``."""
        measure = CATALOGUE[self.measure]
        value = evidence.measures.get(self.measure)
        if value is None:
            return not_measured(self, measure, evidence)
        corners = ((self.none_at, 0.0), (self.full_at, self.points))
        earned = interpolate(corners, value)
        more = "" if earned >= self.points else goal_said(self, measure, value, self.full_at)
        return Found(earned, said(measure, value), where(corners, measure, value), more)
