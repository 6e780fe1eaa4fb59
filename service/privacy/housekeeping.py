"""What the sweep does besides: classes whose time is over, and the traces of what was deleted."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta

import redis
from sqlalchemy import delete, select
from sqlalchemy.exc import DBAPIError

from service.classes.sketches import forget_old
from service.people import strangers
from service.privacy.keeping import keep_time
from service.privacy.traces import purge
from service.records import queries
from service.records.acts import GoneOrder
from service.records.engine import Records, rewrite
from service.records.models import now

log = logging.getLogger(__name__)

KEEPING_EVERY_S = 3600
FORGET_EVERY_S = 60
TIDY_EVERY_S = 600
"""The database is written anew at most so often, however many pupils are deleted one by one."""

ONCE_MORE = timedelta(minutes=10)
"""So long after a deletion the broker is looked through a second time: by then every answer to an
order that was under way has come, and no sweep still holds an order that it read before."""


@dataclass
class Housekeeping:
    """Looks every second and acts seldom."""

    records: Records
    broker: str
    clock: Callable[[], float] = time.monotonic
    moment: Callable[[], datetime] = now
    _keeping_at: float = 0.0
    _forget_at: float = 0.0
    _tidy_at: float = field(default=0.0)

    def look(self) -> None:
        """Do what is due."""
        if self.clock() >= self._keeping_at:
            self._keeping_at = self.clock() + KEEPING_EVERY_S
            self.keep()
        if self.clock() >= self._forget_at:
            self._forget_at = self.clock() + FORGET_EVERY_S
            with self.records.write() as session:
                forget_old(session)
                strangers.forget_old(session, self.moment())
        if self.clock() >= self._tidy_at and self._untidy():
            self._tidy_at = self.clock() + TIDY_EVERY_S
            self.tidy()

    def keep(self) -> None:
        """Foretell and delete classes whose time is over."""
        with self.records.write() as session:
            done = keep_time(session, self.moment())
        if done.foretell or done.delete or done.void:
            log.info("time of keeping", extra={"foretold": done.foretell, "deleted": done.delete, "void": done.void})

    def tidy(self) -> None:
        """Clear broker and database of what was deleted; what fails is tried again later."""
        moment = self.moment()
        with self.records.read() as session:
            gone = dict(session.execute(select(GoneOrder.job_id, GoneOrder.at)).all())
            school = queries.school(session)
            since = school.tidy_at if school else None
        try:
            # A pupil who only looked at a text left no job behind, and yet an order.
            taken = purge(self.broker, gone) if gone or since is not None else 0
            written = since is None or rewrite(self.records)
        except (OSError, redis.RedisError, DBAPIError) as error:
            log.warning("traces of what was deleted wait to be cleared", extra={"error": type(error).__name__})
            return
        with self.records.write() as session:
            session.execute(delete(GoneOrder).where(GoneOrder.at <= moment - ONCE_MORE))
            found = queries.school(session)
            if found is not None and written and found.tidy_at == since:
                found.tidy_at = None
        log.info("traces of what was deleted are cleared", extra={"messages": taken, "written_anew": written})

    def _untidy(self) -> bool:
        with self.records.read() as session:
            school = queries.school(session)
            if school is not None and school.tidy_at is not None:
                return True
            old = select(GoneOrder.job_id).where(GoneOrder.at <= self.moment() - ONCE_MORE).limit(1)
            return session.scalar(old) is not None
