"""A class at one assignment: one row for each student.  Pure: students and attempts in, rows out."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from service.records.models import NOT_MARKED, RECEIVED, Person
from service.records.queries import AttemptLine


@dataclass(frozen=True)
class Row:
    """One student."""

    student: Person
    attempts: int
    newest: AttemptLine | None
    best: AttemptLine | None
    """The attempt with the highest mark, of equal ones the newest; None while nothing is marked."""
    best_efficiency: float | None
    """The highest of the attempts that keep the limits."""
    late: bool
    """Whether the attempt with the best mark came after the due date."""


def rows(students: Sequence[Person], lines: Sequence[AttemptLine], due: datetime | None) -> list[Row]:
    """All students by name, each with what they handed in."""
    ordered = sorted(students, key=lambda student: sort_key(student.name))
    return [_row(student, [line for line in lines if line.student_id == student.id], due) for student in ordered]


def sort_key(name: str) -> tuple[str, str]:
    """Where a name stands in a list: accents and capitals decide only between names that are else the same."""
    bare = "".join(c for c in unicodedata.normalize("NFKD", name) if not unicodedata.combining(c))
    return bare.casefold(), name


def state_said(line: AttemptLine) -> str:
    """The state of an attempt in a few words."""
    if line.state == RECEIVED:
        return "being marked"
    if line.state == NOT_MARKED:
        return "could not be marked"
    if line.has_mistakes:
        return "mistakes in the file"
    said = "a mechanism" if line.stable is False else "marked"
    return f"{said}, not released yet" if line.held else said


def _row(student: Person, own: list[AttemptLine], due: datetime | None) -> Row:
    marked = [line for line in own if line.total is not None]
    best = max(marked, key=lambda line: (line.total or 0.0, line.number), default=None)
    on_board = [line.efficiency for line in own if line.on_board and line.efficiency is not None]
    dated = best or (own[-1] if own else None)
    return Row(
        student=student,
        attempts=len(own),
        newest=own[-1] if own else None,
        best=best,
        best_efficiency=max(on_board, default=None),
        late=due is not None and dated is not None and dated.handed_in > due,
    )
