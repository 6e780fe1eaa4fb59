"""Holding marks and releasing them.

While a mark is held, its student reads whether the file has mistakes and whether the truss
stands, because that is what helps them go on.  Points, forces, sheet and places on a board come
with the release.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.evidence import Place
from rubric.messages.names import PRINT
from service.classes.history import Step, keep
from service.classes.placing import settle
from service.jobs import open_job
from service.marks import total_up
from service.records.acts import note
from service.records.models import MARKED, Assignment, Change, Job, Submission, now

HELD, RELEASED = "held back", "released"
"""What the history calls the two."""


def release(session: Session, person_id: int, submission_ids: Iterable[int], *, anew: bool = False) -> list[Job]:
    """Give students the marks of these attempts; the jobs of their sheets.

    What is not marked yet, or is released already, is left alone.

    Parameters
    ----------
    anew
        Whether places that were given at an earlier release are settled once more.
    """
    found = _locked(session, submission_ids, held=True)
    settled = settle(session, found, anew=anew)
    return [_release(session, person_id, submission, places) for submission, places in zip(found, settled, strict=True)]


def _release(session: Session, person_id: int, submission: Submission, places: Mapping[str, Place]) -> Job:
    total_before, before = submission.total, submission.places
    submission.places = before | {name: place.model_dump() for name, place in places.items()}
    total_up(submission)
    submission.held = False
    steps = [
        Step("place settled", name, _said(before.get(name)), _said(place.model_dump()))
        for name, place in places.items()
        if before.get(name) != place.model_dump()
    ]
    keep(session, submission, person_id, [*steps, Step(RELEASED, silent=True)], total_before)
    submission.given_at = submission.given_at or now()
    return open_job(session, PRINT, submission.id)


def _said(place: Mapping[str, int] | None) -> str:
    return f"place {place['place']} of {place['of']}" if place else "not settled"


def set_by_hand(session: Session, person_id: int, assignment: Assignment, by_hand: bool) -> None:
    """Say whether marks of attempts to come wait until they are released."""
    assignment.release_by_hand = by_hand
    note(session, person_id, "when marks are given", "assignment", assignment.id, "by hand" if by_hand else "at once")


def hold(session: Session, person_id: int, submission_ids: Iterable[int], why: str = "") -> int:
    """Take the marks of these attempts back from their students; how many were."""
    found = _locked(session, submission_ids, held=False)
    for submission in found:
        submission.held = True
        keep(session, submission, person_id, [Step(HELD, why=why, silent=True)], submission.total)
    return len(found)


def held_since(session: Session, submission: Submission) -> Change | None:
    """The change that took a mark back which the student had been given; None where there was none."""
    if not submission.held or submission.given_at is None:
        return None
    found = select(Change).where(Change.submission_id == submission.id, Change.what == HELD)
    return session.scalar(found.order_by(Change.id.desc()).limit(1))


def _locked(session: Session, submission_ids: Iterable[int], *, held: bool) -> list[Submission]:
    wanted = select(Submission).where(
        Submission.id.in_(list(submission_ids)), Submission.state == MARKED, Submission.held.is_(held)
    )
    return list(session.scalars(wanted.order_by(Submission.id).with_for_update()))
