"""Marking: Rubric x Measures -> Marks.  Pure: the same input gives the same marks, always."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import BaseModel, ConfigDict

from rubric.criteria.common import CriterionMark, Judgements
from rubric.measures import Measures

if TYPE_CHECKING:
    from rubric.rubrics import Rubric


class Marks(BaseModel):
    """All criteria of one piece of work.  ``total`` is the exact sum of the points printed."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    criteria: tuple[CriterionMark, ...]
    total: float
    out_of: float
    waiting: float = 0.0
    """Points that wait for the teacher."""


def mark(rubric: Rubric, measures: Measures, judgements: Judgements | None = None) -> Marks:
    """Mark one truss.

    Parameters
    ----------
    measures
        Values by name of the catalogue; one that the truss cannot have is None or left out.
    judgements
        What the teacher gave so far, by name of the criterion.
    """
    criteria = tuple(criterion.mark(measures, judgements or {}) for criterion in rubric.criteria)
    return Marks(
        criteria=criteria,
        total=round(sum(c.points for c in criteria if c.points is not None), 2),
        out_of=round(sum(c.out_of for c in criteria), 2),
        waiting=round(sum(c.out_of for c in criteria if c.points is None), 2),
    )
