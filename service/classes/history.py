"""The history of a mark: every change with who, when, what, from, to and why.

``keep`` writes what one saving changed.  ``entries`` is what staff read; ``told`` is what a
student reads where a mark that was given has changed since.  What is kept is English;
:mod:`service.kept_words` says it in the language of whoever reads.
"""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.criteria.common import points_said
from rubric.language import ENGLISH, _, speaking
from rubric.wording import points
from service.kept_words import MOVES_NOTHING
from service.records.models import Change, Submission, now

OWN = "own points"
"""What the history calls points of a criterion that no computation judges."""

CORRECTED = "points corrected"
"""What the history calls points that a teacher put in place of computed ones."""


@dataclass(frozen=True)
class Step:
    """One thing that a saving changes."""

    what: str
    """In words, at most 40 letters."""
    criterion: str = ""
    before: str = ""
    after: str = ""
    why: str = ""
    silent: bool = False
    """Not for the student to be told: what they were given stays as it is."""


@dataclass(frozen=True)
class Told:
    """A dated notice for the student."""

    at: datetime
    said: str


def keep(
    session: Session, submission: Submission, person_id: int, steps: Sequence[Step], total_before: float | None
) -> None:
    """Write the steps of one saving; the submission already has its new total.

    Parameters
    ----------
    person_id
        Who changes.
    total_before
        The total before it, None where there was none.
    """
    moment = now()
    session.add_all(
        Change(
            submission_id=submission.id,
            person_id=person_id,
            at=moment,
            what=step.what,
            criterion=step.criterion,
            before=step.before,
            after=step.after,
            why=step.why,
            total_before=total_before,
            total_after=submission.total,
            told=submission.given_at is not None and not step.silent,
        )
        for step in steps
    )


def entries(session: Session, submission_id: int) -> list[Change]:
    """The changes of an attempt, newest first."""
    found = select(Change).where(Change.submission_id == submission_id).order_by(Change.id.desc())
    return list(session.scalars(found))


def moved_since(session: Session, assignment_id: int, moment: datetime) -> bool:
    """Whether a mark of an assignment came, changed, or was held or released since a moment (UTC)."""
    of_it = Submission.assignment_id == assignment_id
    marked = select(Submission.id).where(of_it, Submission.marked_at >= moment)
    changed = (
        select(Change.id).join(Submission).where(of_it, Change.at >= moment, Change.what.not_in(MOVES_NOTHING)).limit(1)
    )
    return session.scalar(marked.limit(1)) is not None or session.scalar(changed) is not None


def corrections(session: Session, submission: Submission) -> dict[str, Change]:
    """By criterion: the change that put the points there which a teacher gives in place of computed ones now."""
    return _latest(session, submission, CORRECTED, submission.corrections)


def given_by_hand(session: Session, submission: Submission) -> dict[str, Change]:
    """The same with points of criteria that no computation judges."""
    return corrections(session, submission) | _latest(session, submission, OWN, submission.judgements)


def _latest(session: Session, submission: Submission, what: str, there: Container[str]) -> dict[str, Change]:
    found = select(Change).where(Change.submission_id == submission.id, Change.what == what).order_by(Change.id)
    return {change.criterion: change for change in session.scalars(found) if change.criterion in there}


def told(changes: Sequence[Change]) -> list[Told]:
    """What a student is told of them, newest first; one notice for each saving."""
    shown = [change for change in changes if change.told]
    return [Told(at, _told(list(rows))) for at, rows in groupby(shown, key=lambda change: change.at)]


def given(points_: float | None) -> str:
    """Points as the history keeps them: in English, as all of it."""
    with speaking(ENGLISH):
        return _("waits") if points_ is None else points_said(points_)


def _told(rows: list[Change]) -> str:
    before, after = rows[0].total_before, rows[0].total_after
    whole = before is not None and after is not None and before != after
    moved = _moved(rows)
    if whole:
        moved = _("from {before} to {after}", before=points(before or 0), after=points_said(after or 0))
    reasons = list(dict.fromkeys(row.why.strip() for row in reversed(rows) if row.why.strip()))
    return _("{change}, because {reasons}", change=moved, reasons="; ".join(reasons)) if reasons else f"{moved}."


def _moved(rows: list[Change]) -> str:
    """Where the total stayed as it was."""
    names = list(dict.fromkeys(f"'{row.criterion}'" for row in reversed(rows) if row.criterion))
    return _("{what}, with the same total", what=_(" and ").join(names) or _("your mark"))
