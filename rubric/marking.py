"""Marking: Rubric x Evidence -> Marks.  Pure: the same input gives the same marks, always."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import BaseModel, ConfigDict

from rubric.criteria.common import Criterion, CriterionMark, Judged, Judgements, points_said
from rubric.evidence import Evidence
from rubric.language import _
from rubric.rules.total import on_board, settle

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
    on_board: bool = True
    """Whether every entry condition holds, so that it may stand on a leaderboard."""


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
    earned = round(sum(c.points for c in criteria if c.points is not None), 2)
    total, rules = settle(rubric, evidence, earned)
    return Marks(
        criteria=criteria,
        total=total,
        out_of=rubric.full,
        waiting=round(sum(c.out_of for c in criteria if c.points is None), 2),
        rules=rules,
        on_board=on_board(rubric, evidence),
    )


def _corrected(criterion: Criterion, found: CriterionMark, correction: Judged | None) -> CriterionMark:
    """The mark with the teacher's own points and reason; what was seen and asked stays."""
    if correction is None:
        return found
    low, high = criterion.bounds
    points = round(min(max(correction.points, low), high), 2)
    rest = high - points
    more = _("Ask your teacher how to earn the other {points}.", points=points_said(rest))
    return found.model_copy(
        update={
            "points": points,
            "why": correction.comment or _("Your teacher changed these points."),
            "earn_more": more if rest > 0 else "",
            "corrected": True,
        }
    )
