"""Jobs: what is asked of the workers, and the one write with which an answer counts.

``open_job`` begins a round; ``record_started`` and ``record`` take in what a worker sends.  All
run inside a writing session of the caller, and nothing here touches the broker.
"""

from __future__ import annotations

import secrets
from collections.abc import Collection
from datetime import datetime, timedelta

from sqlalchemy import Select, and_, func, or_, select, update
from sqlalchemy.orm import Session

from rubric.messages.names import AWARD, COMPARE, DRAW, MARK, PLAN, PRINT, REPORT, TRY
from rubric.messages.settings import HARD_LIMIT_S
from service.records.models import DONE, WAITING, Job, now

STARTS_ALLOWED = 3
"""So often may a worker begin an order that never comes back, before it is given up."""

PATIENCE_S = {MARK: 10, DRAW: 10, TRY: 10, PRINT: 15, PLAN: 15, AWARD: 60, REPORT: 60, COMPARE: 60}
"""How long a worker that has begun is left alone before the order is sent to another one too."""

FIRST_PAUSE_S, LONGEST_PAUSE_S = 5, 30


def pause(sent: int) -> timedelta:
    """How long to wait after the ``sent``-th sending: 5 s, 10 s, 20 s, then 30 s."""
    return timedelta(seconds=min(FIRST_PAUSE_S * 2 ** min(sent - 1, 10), LONGEST_PAUSE_S))


def open_job(session: Session, kind: str, subject_id: int) -> Job:
    """Begin a round of work; a round that was under way for the same thing no longer counts.

    The sending that follows the caller's commit is already counted, so that a hand-in is one
    transaction.  Call :func:`service.sending.send` once that is committed.
    """
    job = session.scalar(select(Job).where(Job.kind == kind, Job.subject_id == subject_id))
    if job is None:
        job = Job(kind=kind, subject_id=subject_id)
        session.add(job)
    moment = now()
    job.state, job.attempt = WAITING, secrets.token_hex(16)
    job.sent, job.started = 1, 0
    job.created_at = job.sent_at = moment
    job.came_sent_at = None
    job.next_send_at, job.finished_at = moment + pause(1), None
    session.flush()
    return job


def record_started(session: Session, job_id: int, attempt: str, sending: int = 1) -> bool:
    """Count that a worker began with this sending; whether the row still waited for this attempt.

    The worker is given time: the last start allowed gets all that the hard limit grants.
    """
    job = session.scalar(_still_waiting(job_id, attempt).with_for_update())
    if job is None:
        return False
    job.started += 1
    # Of an order that was sent again the first message may come through, long before the latest.
    job.came_sent_at = job.sent_at if sending == job.sent else job.created_at
    patience = PATIENCE_S[job.kind] if job.started < STARTS_ALLOWED else HARD_LIMIT_S[job.kind]
    job.next_send_at = max(job.next_send_at, now() + timedelta(seconds=patience))
    return True


def finish(session: Session, job: Job, state: str = DONE) -> bool:
    """End a round: compare and set, so that of all answers to one round exactly one counts."""
    done = session.execute(
        update(Job)
        .where(Job.id == job.id, Job.attempt == job.attempt, Job.state == WAITING)
        .values(state=state, finished_at=now())
        .execution_options(synchronize_session=False)
    )
    return done.rowcount == 1  # type: ignore[attr-defined]


def waiting_job(session: Session, job_id: int, attempt: str, kinds: Collection[str]) -> Job | None:
    """The row that waits for exactly this answer, or None where the answer is late, doubled or made up."""
    return session.scalar(_still_waiting(job_id, attempt).where(Job.kind.in_(kinds)))


def oldest_waiting(session: Session) -> datetime | None:
    """Since when the row that waits longest has waited; None where nothing waits."""
    return session.scalar(select(Job.created_at).where(Job.state == WAITING).order_by(Job.created_at).limit(1))


def ahead(session: Session, kind: str, subject_id: int) -> int | None:
    """How many of the same kind wait and were there before; None where this one does not wait."""
    own = session.scalar(select(Job).where(Job.kind == kind, Job.subject_id == subject_id, Job.state == WAITING))
    if own is None:
        return None
    before = or_(Job.created_at < own.created_at, and_(Job.created_at == own.created_at, Job.id < own.id))
    return session.scalar(select(func.count()).where(Job.kind == kind, Job.state == WAITING, before))


def _still_waiting(job_id: int, attempt: str) -> Select[Job]:
    return select(Job).where(Job.id == job_id, Job.attempt == attempt, Job.state == WAITING)
