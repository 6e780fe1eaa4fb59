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

from typing import Literal

from rubric.criteria.common import Criterion, Found, Judgements
from rubric.criteria.measured import Bound, goal_said, not_measured, said
from rubric.evidence import Evidence
from rubric.language import _
from rubric.measures import CATALOGUE


class Threshold(Bound, Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["threshold"]

    def find(self, evidence: Evidence, judgements: Judgements) -> Found:
        """All or nothing."""
        measure = CATALOGUE[self.measure]
        value = evidence.measures.get(self.measure)
        if value is None:
            return not_measured(self, measure, evidence)
        if self.reached(value):
            return Found(self.points, said(measure, value), _("That is what was asked."))
        more = goal_said(self, measure, value, self.number, all_of_it=False)
        return Found(0.0, said(measure, value), self.gap(value), more)
