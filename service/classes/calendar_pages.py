"""The due dates of whoever asks, as a file for a calendar."""

from __future__ import annotations

import hashlib
import hmac
from collections.abc import Iterable, Mapping
from datetime import datetime

from flask import Blueprint, Response, current_app

from rubric.language import _
from service import web
from service.calendar_file import Event, calendar
from service.records import at_the_desk, queries
from service.records.models import STUDENT, Assignment, now

pages = Blueprint("calendar", __name__)


@pages.get("/due-dates.ics")
def due_dates() -> Response:
    """A student's own due dates, or those of all classes that a teacher has on the desk."""
    session, person = web.reading(), web.person()
    student = person.role == STUDENT
    own = at_the_desk.own_due(session, person) if student else {}
    classes = [one for one in queries.classes_of(session, person) if one.archived_at is None]
    found = [assignment for one in classes for assignment in one.assignments]
    events = events_of(found, own, with_class=not student)
    headers = {"Content-Disposition": 'attachment; filename="due-dates.ics"'}
    return Response(calendar(events, now()), headers=headers, content_type="text/calendar; charset=utf-8")


def events_of(
    found: Iterable[Assignment], own: Mapping[int, datetime] | None = None, *, with_class: bool = True
) -> list[Event]:
    """The due dates of assignments; those in ``own``, by assignment, go over the class's."""
    return [
        Event(
            _uid(one), when, f"{one.title}, {one.school_class.name}" if with_class else one.title, _("Due in Kingpost.")
        )
        for one in found
        if (when := (own or {}).get(one.id, one.due)) is not None
    ]


def _uid(assignment: Assignment) -> str:
    """The same for ever for one assignment, and another one in another school."""
    key = str(current_app.config["SECRET_KEY"]).encode()
    mark = hmac.new(key, b"due date %d" % assignment.id, hashlib.sha256).hexdigest()[:32]
    return f"{mark}@kingpost.invalid"
