"""What a worker sends, taken in: checked, written, and the next order sent."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable
from typing import Any, TypeVar

from sqlalchemy.exc import OperationalError
from sqlalchemy.orm import Session

from service.jobs import record_started
from service.outcomes import OutcomeRefused, read_outcome, record
from service.records.engine import Records
from service.sending import Sending

log = logging.getLogger(__name__)

LONGEST_WAIT_S = 5.0

T = TypeVar("T")


def started(records: Records, job: Any, attempt: Any, sending: Any = 1) -> None:
    """A worker began with one sending of an order."""
    if type(job) is not int or not isinstance(attempt, str) or not 0 < job < 2**31 or type(sending) is not int:
        log.warning("a start was refused", extra={"reason": "it has the wrong shape"})
        return
    _write(records, lambda session: record_started(session, job, attempt, sending))


def take_in(records: Records, sending: Sending, message: Any) -> None:
    """A worker answered: write the outcome once and send what follows from it.

    An outcome that is refused is logged and dropped; its row keeps waiting, is sent again and is
    given up after three starts, so a person gets to know.
    """
    try:
        outcome = read_outcome(message)
    except OutcomeRefused as refusal:
        job = message.get("job") if isinstance(message, dict) else None
        log.error("an outcome was refused", extra={"job": job if type(job) is int else None, "reason": str(refusal)})
        return
    opened = _write(records, lambda session: record(session, outcome))
    if opened is None:
        log.info("an outcome came late or twice and was left out", extra={"job": outcome.job})
    for job in opened or ():
        sending.send(job)


def _write(records: Records, work: Callable[[Session], T]) -> T:
    """Run ``work`` in a writing session, waiting for a database that is locked, full or gone.

    Nothing else can be recorded meanwhile, so there is nothing better to do than wait, and no
    outcome is lost by it.  Should the process end first, the row still waits and is sent again.
    """
    wait = 0.2
    while True:
        try:
            with records.write() as session:
                return work(session)
        except OperationalError as error:
            log.error("the database cannot be written; trying again", extra={"error": type(error.orig).__name__})
            time.sleep(wait)
            wait = min(2 * wait, LONGEST_WAIT_S)
