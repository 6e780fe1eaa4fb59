"""What every page needs: the database sessions of this process, and the person who asks."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, nullcontext
from threading import Lock
from typing import Protocol, cast

from flask import current_app, g
from sqlalchemy.orm import Session

from service.records import queries
from service.records.engine import Records
from service.records.models import Job, Person, School, Sketch

_TURN = Lock()
"""SQLite lets one writer in at a time and has the others try again after ever longer pauses.  Standing
in line, forty students who send in the same instant waited 0.3 s at the most; trying again, 1.5 s."""


class Sender(Protocol):
    """What carries the order of a job to the workers; :class:`service.sending.Sending`."""

    def send(self, job: Job) -> bool:
        """Publish the order of a committed job; False where it has to wait for the sweep."""

    def look(self, sketch: Sketch) -> bool:
        """Publish the order of a sketch that is kept."""


def records() -> Records:
    """The database of this application."""
    return cast(Records, current_app.extensions["kingpost"])


def reading() -> Session:
    """The session in which this request reads: it sees one moment of the database."""
    if "reading" not in g:
        g.open_until_the_end = ExitStack()
        g.reading = g.open_until_the_end.enter_context(records().read())
    return cast(Session, g.reading)


@contextmanager
def writing() -> Iterator[Session]:
    """A writing transaction: committed at the end, rolled back on an error."""
    on_one_host = records().engine.dialect.name == "sqlite"
    with _TURN if on_one_host else nullcontext(), records().write() as session:
        yield session


def send(job: Job) -> None:
    """Publish the order of a job that is committed.  Where that fails, the row waits for the sweep."""
    cast(Sender, current_app.extensions["kingpost.sender"]).send(job)


def look(sketch: Sketch) -> None:
    """Publish the order to look at a sketch that is kept."""
    cast(Sender, current_app.extensions["kingpost.sender"]).look(sketch)


def school() -> School | None:
    """The school, looked up once for each request."""
    if "school" not in g:
        g.school = queries.school(reading())
    return cast("School | None", g.school)


def close_reading(_: BaseException | None = None) -> None:
    """Give the reading session back."""
    g.pop("reading", None)
    opened = g.pop("open_until_the_end", None)
    if opened is not None:
        opened.close()


def person() -> Person:
    """Who asks; only on pages that need somebody to be signed in."""
    found = g.person
    assert isinstance(found, Person)
    return found


def person_or_none() -> Person | None:
    """Who asks, or None where nobody is signed in."""
    return cast("Person | None", g.get("person"))
