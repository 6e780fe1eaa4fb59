"""The sweep: sends again what got lost, and gives up what never comes back.

A row that waits may still lie in its queue, and sending it again would only make a slow queue
longer.  So a row is sent again only with evidence that its message is gone:

*   something of the same kind that was sent later has already come back (queues are first in,
    first out), or
*   nothing of its kind has come back for a while, and no worker has lately begun anything.  Then a few
    of the oldest are sent as probes, ever more seldom; when a probe comes back, all that had waited
    longer count as overtaken.

A row that no worker ever began is never given up, however often it was sent.
"""

from __future__ import annotations

import logging
import time
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from sqlalchemy import Select, case, func, select, update
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from rubric.language import later
from rubric.messages.names import AWARD, MARK, PLAN, PRINT, REPORT
from service.jobs import STARTS_ALLOWED, finish, oldest_waiting, pause
from service.orders import order_for
from service.privacy.housekeeping import Housekeeping
from service.records.contest_models import ContestPrint
from service.records.engine import Records
from service.records.models import (
    DONE,
    FAILED,
    NOT_MARKED,
    RECEIVED,
    WAITING,
    Assignment,
    Contest,
    Job,
    Notice,
    Submission,
    now,
)
from service.sending import Sending

log = logging.getLogger(__name__)

IDLE_S, SELDOM_S = 5, 15
"""Silence after which a queue is probed, and the longest pause between probes."""

PROBES, BATCH = 4, 50
"""How many rows are sent again at once: into a silent queue, and into one that moves."""

BACK_WITHIN = timedelta(minutes=10)
"""How far back the sweep looks for what has come back."""

_GIVEN_UP = {
    MARK: later(
        "Attempt {number} could not be marked: the program stopped three times while it worked on the file. "
        "The file is kept. Please look at it and mark it by hand, or ask the student to hand it in again."
    ),
    PRINT: later(
        "The sheet of attempt {number} could not be printed: the program stopped three times while it set it. "
        "The marks stand and can be read on the page of the attempt."
    ),
    PLAN: later(
        "The building plan of attempt {number} could not be drawn: the program stopped three times while it drew it. "
        "You can ask for it again on the page of the attempt."
    ),
}

_AWARD_GIVEN_UP = {
    "certificates": later(
        "The certificates of the contest '{contest}' could not be set: the program stopped three times while it set "
        "the pages. You can ask for it again on the contest's page."
    ),
    "booklet": later(
        "The booklet of the contest '{contest}' could not be set: the program stopped three times while it set the "
        "pages. You can ask for it again on the contest's page."
    ),
}

_REPORT_GIVEN_UP = later(
    "The class report of '{title}' could not be set: the program stopped three times while it set the pages. "
    "You can ask for it again where the marks are handed on."
)

EVERY_S = 1.0
LATE_S = 120
"""A row that has waited longer than this is worth a line in the log."""


@dataclass(frozen=True)
class Queue:
    """What is known of one kind of job."""

    back_at: datetime | None = None
    """When something last came back."""
    back_sent_at: datetime | None = None
    """The latest sending among all that came through: by the very message with which a worker began."""
    last_sent_at: datetime | None = None
    """The latest sending among all that wait."""
    busy_until: datetime | None = None
    """Until when a worker that began one of those that wait is left alone with it."""


@dataclass(frozen=True)
class Verdict:
    """Which rows to send again and which to give up."""

    send: list[Job] = field(default_factory=list)
    give_up: list[Job] = field(default_factory=list)


def due(waiting: Iterable[Job], queues: Mapping[str, Queue], moment: datetime) -> Verdict:
    """Decide over the rows whose pause is over; ``waiting`` is ordered by age, and nothing is changed."""
    verdict = Verdict()
    probes: dict[str, int] = {}
    for job in waiting:
        queue = queues.get(job.kind, Queue())
        if job.next_send_at > moment:
            continue
        if job.started >= STARTS_ALLOWED:
            verdict.give_up.append(job)
        elif len(verdict.send) >= BATCH:
            continue
        elif _overtaken(job, queue):
            verdict.send.append(job)
        elif _silent(queue, moment) and probes.get(job.kind, 0) < PROBES:
            probes[job.kind] = probes.get(job.kind, 0) + 1
            verdict.send.append(job)
    return verdict


def _overtaken(job: Job, queue: Queue) -> bool:
    return queue.back_sent_at is not None and job.sent_at is not None and job.sent_at < queue.back_sent_at


def _silent(queue: Queue, moment: datetime) -> bool:
    # A slow worker is no sign of loss: to send it the same again would only make it slower.
    if queue.busy_until is not None and queue.busy_until > moment:
        return False
    silence = BACK_WITHIN if queue.back_at is None else moment - queue.back_at
    wait = min(max(silence / 4, timedelta(seconds=IDLE_S)), timedelta(seconds=SELDOM_S))
    quiet = queue.last_sent_at is None or moment - queue.last_sent_at >= wait
    return silence >= timedelta(seconds=IDLE_S) and quiet


def sweep_once(records: Records, sending: Sending) -> Verdict:
    """Look once; the rows are committed as sent before anything is published."""
    moment = now()
    with records.read() as session:
        waiting = session.scalars(_pause_over(moment)).all()
        if not waiting:
            return Verdict()
        verdict = due(waiting, _queues(session, moment), moment)
        orders = [(job, order_for(session, job)) for job in verdict.send]
    if not orders and not verdict.give_up:
        return verdict
    with records.write() as session:
        again = [(job, order) for job, order in orders if order and _sent_again(session, job, moment)]
        for job in verdict.give_up + [job for job, order in orders if order is None]:
            give_up(session, job)
    # The first that cannot be published ends the pass: the broker is down for the others too.
    published = all(sending.publish(job.kind, order | {"sending": job.sent + 1}) for job, order in again)
    log.info("swept", extra={"sent": len(again), "given_up": len(verdict.give_up), "published": published})
    return verdict


def run(records: Records, sending: Sending, every_s: float = EVERY_S) -> None:
    """Sweep until the process is told to stop; a database that is busy or gone is tried again."""
    told, housekeeping = 0.0, Housekeeping(records, sending.broker)
    while True:
        try:
            sweep_once(records, sending)
            housekeeping.look()
            if time.monotonic() - told > LATE_S:
                told = time.monotonic() if _tell_late(records) else told
        except DBAPIError as error:
            log.warning("the sweep could not use the database", extra={"error": type(error).__name__})
        time.sleep(every_s)


def give_up(session: Session, job: Job) -> None:
    """End a job that was begun often enough and never came back; the teacher is told."""
    if not finish(session, job, FAILED):
        return
    log.error("a job was given up", extra={"job": job.id, "kind": job.kind, "subject": job.subject_id})
    if job.kind == AWARD:
        _tell_office(session, job)
    if job.kind == REPORT:
        _tell_teachers(session, job)
    submission = session.get(Submission, job.subject_id) if job.kind in _GIVEN_UP else None
    if submission is not None:
        if job.kind == MARK and submission.state == RECEIVED:
            submission.state = NOT_MARKED
        assignment = session.get_one(Assignment, submission.assignment_id)
        told = Notice(class_id=assignment.class_id, submission_id=submission.id, text=_GIVEN_UP[job.kind])
        told.values = {"number": submission.number}
        session.add(told)


def _tell_office(session: Session, job: Job) -> None:
    """A notice without a class is for coordinators."""
    wanted = session.get(ContestPrint, job.subject_id)
    if wanted is not None:
        contest = session.get_one(Contest, wanted.contest_id).title
        session.add(Notice(text=_AWARD_GIVEN_UP[wanted.what], values={"contest": contest}))


def _tell_teachers(session: Session, job: Job) -> None:
    """A notice for the teachers of the class."""
    assignment = session.get(Assignment, job.subject_id)
    if assignment is not None:
        told = Notice(class_id=assignment.class_id, text=_REPORT_GIVEN_UP, values={"title": assignment.title})
        session.add(told)


def _pause_over(moment: datetime) -> Select[Job]:
    return select(Job).where(Job.state == WAITING, Job.next_send_at <= moment).order_by(Job.sent_at, Job.id).limit(500)


def _queues(session: Session, moment: datetime) -> dict[str, Queue]:
    back = (
        select(Job.kind, func.max(Job.finished_at), func.max(Job.came_sent_at))
        .where(Job.state == DONE, Job.finished_at > moment - BACK_WITHIN)
        .group_by(Job.kind)
    )
    queues = {kind: Queue(back_at, back_sent_at) for kind, back_at, back_sent_at in session.execute(back)}
    # The last start allowed may take all that the hard limit grants, which is too long to look away.
    begun = case((Job.started.between(1, STARTS_ALLOWED - 1), Job.next_send_at))
    waiting = select(Job.kind, func.max(Job.sent_at), func.max(begun)).where(Job.state == WAITING).group_by(Job.kind)
    for kind, last_sent_at, busy_until in session.execute(waiting):
        queues[kind] = replace(queues.get(kind, Queue()), last_sent_at=last_sent_at, busy_until=busy_until)
    return queues


def _sent_again(session: Session, job: Job, moment: datetime) -> bool:
    """Count one more sending, unless the row has moved on since it was read."""
    sent = session.execute(
        update(Job)
        .where(Job.id == job.id, Job.attempt == job.attempt, Job.state == WAITING, Job.sent == job.sent)
        .values(sent=job.sent + 1, sent_at=moment, next_send_at=moment + pause(job.sent + 1))
    )
    return sent.rowcount == 1  # type: ignore[attr-defined]


def _tell_late(records: Records) -> bool:
    """A worker can be alive and deaf, so the age of what waits longest is watched and not the process."""
    with records.read() as session:
        since = oldest_waiting(session)
    late = since is not None and now() - since > timedelta(seconds=LATE_S)
    if since is not None and late:
        log.warning("work has waited long", extra={"seconds": round((now() - since).total_seconds())})
    return late
