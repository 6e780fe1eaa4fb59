"""Rubrics of one criterion, and evidence for them."""

from __future__ import annotations

from rubric.criteria.common import CriterionMark
from rubric.evidence import Evidence
from rubric.marking import Marks, mark
from rubric.rubrics import Rubric, read_rubric

STABLE = {"mechanisms": 0.0}
"""A file that was read, of a truss that stands."""


def rubric(kind: str, keys: str, head: str = "", points: str = "points: 20") -> Rubric:
    """A rubric with the criterion 'It' alone."""
    text = f"title: T\n{head}criteria:\n  - {{name: It, kind: {kind}, {keys}, {points}}}\n"
    return read_rubric(text.encode())


def marks(made: Rubric, minutes_late: float = 0.0, **values: float | None) -> Marks:
    """The marks for measures, whose names are written with underscores."""
    measures = {name.replace("_", " "): value for name, value in values.items()}
    return mark(made, Evidence(measures={**STABLE, **measures}, minutes_late=minutes_late))


def first(made: Rubric, **values: float | None) -> CriterionMark:
    """The mark of its first criterion."""
    return marks(made, **values).criteria[0]
