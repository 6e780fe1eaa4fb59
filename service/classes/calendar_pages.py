"""The due dates of whoever asks, as a file for a calendar."""

from __future__ import annotations

import hashlib
import hmac

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
    events = [
        Event(_uid(one), when, one.title if student else f"{one.title}, {one.school_class.name}", _("Due in Kingpost."))
        for one in found
        if (when := own.get(one.id, one.due)) is not None
    ]
    headers = {"Content-Disposition": 'attachment; filename="due-dates.ics"'}
    return Response(calendar(events, now()), headers=headers, content_type="text/calendar; charset=utf-8")


def _uid(assignment: Assignment) -> str:
    """The same for ever for one assignment, and another one in another school."""
    key = str(current_app.config["SECRET_KEY"]).encode()
    mark = hmac.new(key, b"due date %d" % assignment.id, hashlib.sha256).hexdigest()[:32]
    return f"{mark}@kingpost.invalid"
