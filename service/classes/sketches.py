"""Looking at a file while it is still being written: asked for, waited for, and soon forgotten.

A student has one sketch, the newest: an order for an older text is answered in vain.  Nothing here looks
into the file.
"""

from __future__ import annotations

import secrets
from datetime import timedelta

from sqlalchemy import delete, select, update
from sqlalchemy.orm import Session

from rubric.messages.outcomes import Sketched
from service.records.models import Person, Sketch, now

LEAST_PAUSE = timedelta(seconds=1)
"""Between two looks of one student, so that a class that types leaves room for pages and marks."""

PATIENCE = timedelta(seconds=20)
"""After so long without an answer nobody waits for it any more."""

KEPT = timedelta(minutes=30)
"""So long is a text kept that was looked at and not handed in."""


class AskedTooSoon(Exception):
    """The last look was asked for a moment ago."""


def ask(session: Session, student_id: int, assignment_id: int, data: bytes) -> Sketch:
    """Put a text in place of the one before; the order is sent after the caller's commit.

    Raises
    ------
    AskedTooSoon
        Where another text came within the last second.
    """
    session.execute(select(Person.id).where(Person.id == student_id).with_for_update())
    moment = now()
    found = session.scalar(select(Sketch).where(Sketch.student_id == student_id))
    if found is not None and moment - found.asked_at < LEAST_PAUSE:
        raise AskedTooSoon
    if found is None:
        found = Sketch(student_id=student_id)
        session.add(found)
    found.assignment_id, found.file, found.asked_at = assignment_id, data, moment
    found.attempt, found.outcome = secrets.token_hex(16), None
    session.flush()
    return found


def sketch_of(session: Session, student_id: int, assignment_id: int) -> Sketch | None:
    """The student's sketch for this assignment, while it is kept."""
    return session.scalar(
        select(Sketch).where(
            Sketch.student_id == student_id,
            Sketch.assignment_id == assignment_id,
            Sketch.asked_at > now() - KEPT,
        )
    )


def stage(sketch: Sketch | None) -> str:
    """'none', 'waiting', 'late' where no answer came, or 'done'."""
    if sketch is None:
        return "none"
    if sketch.outcome is not None:
        return "done"
    return "late" if now() - sketch.asked_at > PATIENCE else "waiting"


def keep_answer(session: Session, outcome: Sketched) -> bool:
    """Write what a worker saw; whether anybody still waits for it."""
    kept = session.execute(
        update(Sketch)
        .where(Sketch.id == outcome.job, Sketch.attempt == outcome.attempt, Sketch.outcome.is_(None))
        .values(outcome=outcome.model_dump(mode="json"))
        .execution_options(synchronize_session=False)
    )
    return kept.rowcount == 1  # type: ignore[attr-defined]


def forget(session: Session, student_id: int) -> None:
    """What a student typed is handed in, or they sign out."""
    session.execute(delete(Sketch).where(Sketch.student_id == student_id))


def forget_old(session: Session) -> None:
    """What nobody came back to."""
    session.execute(delete(Sketch).where(Sketch.asked_at <= now() - KEPT))
