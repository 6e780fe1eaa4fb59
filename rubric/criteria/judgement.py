"""The teacher's own judgement: points that no computation gives.

.. code-block:: yaml

    - name: Sketch and reasons
      kind: judgement
      look for: a clear sketch, and a reason for the shape of the truss
      points: 10

The criterion waits, and the total is shown as unfinished, until the teacher has filled it in.
A teacher who gives 7 of 10 may add a comment, which the student reads.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from rubric.criteria.common import Criterion, CriterionMark, Judgements, points_said
from rubric.evidence import Evidence
from rubric.shapes import Words


class Judgement(Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["judgement"]
    look_for: Words = Field(description="what the teacher looks for", examples=["a clear sketch"])

    @property
    def asked(self) -> str:
        return self.look_for

    def mark(self, evidence: Evidence, judgements: Judgements) -> CriterionMark:
        """What the teacher gave, within the criterion's points."""
        given = judgements.get(self.name)
        points = None if given is None else round(min(max(given.points, 0.0), self.points), 2)
        rest = 0.0 if points is None else self.points - points
        return CriterionMark(
            name=self.name,
            kind=self.kind,
            points=points,
            out_of=self.points,
            seen="not yet looked at" if given is None else "looked at by your teacher",
            asked=self.asked,
            why="Your teacher fills this in." if given is None else given.comment or "Your teacher's judgement.",
            earn_more=f"Ask your teacher how to earn the other {points_said(rest)}." if rest > 0 else "",
        )
