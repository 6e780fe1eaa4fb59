"""Marking: Rubric x Evidence -> Marks.  Pure: the same input gives the same marks, always."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import BaseModel, ConfigDict

from rubric.criteria.common import Criterion, CriterionMark, Judged, Judgements, points_said
from rubric.evidence import Evidence

if TYPE_CHECKING:
    from rubric.rubrics import Rubric


class Marks(BaseModel):
    """All criteria of one piece of work.  The points printed and what the rules did add up to ``total``."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    criteria: tuple[CriterionMark, ...]
    total: float
    out_of: float
    waiting: float = 0.0
    """Points that wait for the teacher."""
    rules: tuple[str, ...] = ()
    """What the rubric's rules did to the sum of the points, in sentences, in order."""


def mark(
    rubric: Rubric,
    evidence: Evidence,
    judgements: Judgements | None = None,
    corrections: Judgements | None = None,
) -> Marks:
    """Mark one truss.

    Parameters
    ----------
    judgements
        What the teacher gave so far, by name of the criterion.
    corrections
        What a teacher puts in place of the points of any criterion, by its name.
    """
    changed = corrections or {}
    criteria = tuple(
        _corrected(criterion, criterion.mark(evidence, judgements or {}), changed.get(criterion.name))
        for criterion in rubric.criteria
    )
    return Marks(
        criteria=criteria,
        total=round(sum(c.points for c in criteria if c.points is not None), 2),
        out_of=round(sum(c.out_of for c in criteria), 2),
        waiting=round(sum(c.out_of for c in criteria if c.points is None), 2),
    )


def _corrected(criterion: Criterion, found: CriterionMark, correction: Judged | None) -> CriterionMark:
    """The mark with the teacher's own points and reason; what was seen and asked stays."""
    if correction is None:
        return found
    points = round(min(max(correction.points, 0.0), criterion.points), 2)
    rest = criterion.points - points
    return found.model_copy(
        update={
            "points": points,
            "why": correction.comment or "Your teacher changed these points.",
            "earn_more": f"Ask your teacher how to earn the other {points_said(rest)}." if rest > 0 else "",
            "corrected": True,
        }
    )
