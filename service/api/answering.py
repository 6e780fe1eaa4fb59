"""What the views of programs share: their blueprint, rows found within the token's class, answers, writing."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from typing import Any, TypeVar

from flask import Blueprint, Response
from pydantic import BaseModel
from sqlalchemy.orm import Session

from service import web
from service.api.asking import page_wanted, refused, token
from service.api.problems import Refusal
from service.classes.dates import DateRefused
from service.classes.judging import NotJudged
from service.classes.versions import NotChanged
from service.contest import rulebook
from service.people.enrol import CannotEnrol
from service.people.lists.tables import ListRefused
from service.records import queries
from service.records.models import Assignment, Job, Person, SchoolClass, Submission

pages = Blueprint("programs", __name__, url_prefix="/api/v1")
pages.register_error_handler(Refusal, refused)

T = TypeVar("T")


@contextmanager
def carrying_out() -> Iterator[tuple[Session, Person]]:
    """A writing session, and in whose name; what the service refuses becomes a problem."""
    try:
        with web.writing() as session:
            yield session, session.get_one(Person, token().by_id)
    except (NotJudged, NotChanged, DateRefused, ListRefused, CannotEnrol) as error:
        raise Refusal(422, "That cannot be done", str(error)) from None
    except rulebook.Refusal as error:
        raise Refusal(409, "The contest does not allow it", str(error)) from None
    web.close_reading()  # what is answered is read as it stands now


def send_all(jobs: Sequence[Job]) -> None:
    """Publish the orders of jobs that are committed."""
    for job in jobs:
        web.send(job)


def moment_given(text: str | None) -> datetime | None:
    """A moment of a body.

    Raises
    ------
    Refusal
        There is no such day or hour.
    """
    try:
        return datetime.strptime(text, "%Y-%m-%dT%H:%M:%SZ") if text else None
    except ValueError:
        raise Refusal(
            422, "No such moment", f"'{text}' is no day and hour. Write it like this: 2027-03-01T16:00:00Z."
        ) from None


def answer(value: BaseModel, status: int = 200, location: str = "") -> Response:
    """An answer as JSON."""
    headers = {"Location": location} if location else {}
    return Response(value.model_dump_json(), status, headers, content_type="application/json")


def page(query: Any, number: Any, shown: Callable[[Any], T]) -> tuple[tuple[T, ...], str | None]:
    """One page of rows as shown, and the cursor of the next."""
    after, limit = page_wanted()
    found: Sequence[Any] = web.reading().scalars(query.where(number > after).order_by(number).limit(limit + 1)).all()
    more = str(found[limit - 1].id) if len(found) > limit else None
    return tuple(shown(one) for one in found[:limit]), more


def the_class(class_id: int) -> SchoolClass:
    """The token's class, where its number is this."""
    if class_id != token().class_id:
        raise Refusal(404, "No such class", "The token is for another class, or there is none with this number.")
    return token().school_class


def the_student(student_id: int) -> Person:
    """A student of the token's class, or one who left it."""
    found = queries.student(web.reading(), token().by, student_id)
    if found is None or found.class_id != token().class_id:
        raise Refusal(404, "No such student", "The token's class has no student with this number.")
    return found


def the_assignment(assignment_id: int) -> Assignment:
    """An assignment of the token's class."""
    found = queries.assignment(web.reading(), token().by, assignment_id)
    if found is None or found.class_id != token().class_id:
        raise Refusal(404, "No such assignment", "The token's class has no assignment with this number.")
    return found


def the_attempt(attempt_id: int) -> Submission:
    """An attempt of the token's class."""
    found = queries.submission(web.reading(), token().by, attempt_id)
    if found is None or found.assignment.class_id != token().class_id:
        raise Refusal(404, "No such attempt", "The token's class has no attempt with this number.")
    return found


def marked(attempt_id: int) -> Submission:
    """Such an attempt that is marked."""
    found = the_attempt(attempt_id)
    if found.outcome is None:
        raise Refusal(409, "Not marked", "This attempt is not marked yet. Ask again in a few seconds.")
    return found


def moment(moment: datetime | None) -> str | None:
    """A moment as programs read it."""
    return f"{moment:%Y-%m-%dT%H:%M:%SZ}" if moment else None
