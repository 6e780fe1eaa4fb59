"""A class at one assignment: one row for each student.  Pure: students and attempts in, rows out."""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from rubric.language import _, later
from rubric.rules.attempts import Attempts
from service.records.models import MARKED, NOT_MARKED, RECEIVED, Person
from service.records.queries import AttemptLine

NOT_STARTED, WAITING, ATTENTION, FAILED, DONE = (
    later("not started"),
    later("waiting"),
    later("needs attention"),
    later("failed"),
    later("marked"),
)
STATES = (NOT_STARTED, WAITING, ATTENTION, FAILED, DONE)
"""How far a student is; each is in one of them.  ``_`` says it."""


@dataclass(frozen=True)
class Row:
    """One student."""

    student: Person
    attempts: int
    newest: AttemptLine | None
    counts: AttemptLine | None
    """The attempt that counts by the rubric's rule; None while nothing is marked."""
    best_efficiency: float | None
    """The highest of the attempts that may count and keep the limits."""
    late: bool
    """Whether the attempt that counts came after the due date."""
    noticed: bool = False
    """Whether an open notice is about one of the attempts."""

    @property
    def state(self) -> str:
        """One of :data:`STATES`: what is worst about it, from a teacher's side."""
        if self.newest is None:
            return NOT_STARTED
        if self.newest.state == NOT_MARKED:
            return FAILED
        if self.noticed or (self.counts is not None and self.counts.waiting_points):
            return ATTENTION
        return WAITING if self.newest.state == RECEIVED else DONE


def rows(
    students: Sequence[Person], lines: Sequence[AttemptLine], rule: Attempts, noticed: Collection[int] = ()
) -> list[Row]:
    """All students by name, each with what they handed in.

    Parameters
    ----------
    noticed
        Numbers of the attempts that an open notice is about.
    """
    by_student: dict[int, list[AttemptLine]] = {}
    for line in lines:
        by_student.setdefault(line.student_id, []).append(line)
    ordered = sorted(students, key=lambda student: sort_key(student.name))
    return [_row(one, by_student.get(one.id, []), rule, noticed) for one in ordered]


def counting(own: Sequence[AttemptLine], rule: Attempts) -> AttemptLine | None:
    """Which of a student's attempts counts, first to last.

    A file with mistakes counts only where there is nothing better: mending it is no attempt.
    """
    marked = [line for line in own if line.state == MARKED and line.total is not None]
    read = [line for line in marked if not line.has_mistakes] or marked
    place = rule.counting([line.total or 0.0 for line in read])
    return None if place is None else read[place]


def sort_key(name: str) -> tuple[str, str]:
    """Where a name stands in a list: accents and capitals decide only between names that are else the same."""
    bare = "".join(c for c in unicodedata.normalize("NFKD", name) if not unicodedata.combining(c))
    return bare.casefold(), name


def state_said(line: AttemptLine) -> str:
    """The state of an attempt in a few words."""
    if line.state == RECEIVED:
        return _("being marked")
    if line.state == NOT_MARKED:
        return _("could not be marked")
    if line.has_mistakes:
        return _("mistakes in the file")
    if line.stable is False:
        return _("a mechanism, not released yet") if line.held else _("a mechanism")
    return _("marked, not released yet") if line.held else _("marked")


def _row(student: Person, own: list[AttemptLine], rule: Attempts, noticed: Collection[int]) -> Row:
    counts = counting(own, rule)
    may_count = own if rule.counts == "best" else [counts] if counts else []
    on_board = [line.efficiency for line in may_count if line.on_board and line.efficiency is not None]
    dated = counts or (own[-1] if own else None)
    return Row(
        student=student,
        attempts=len(own),
        newest=own[-1] if own else None,
        counts=counts,
        best_efficiency=max(on_board, default=None),
        late=dated is not None and dated.late,
        noticed=any(line.id in noticed for line in own),
    )
