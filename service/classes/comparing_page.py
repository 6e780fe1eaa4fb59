"""The page of two attempts side by side: for the student whose they are, and for the teachers of the class."""

from __future__ import annotations

from flask import Blueprint, abort, render_template, request

from rubric.messages.outcomes import Marked
from service import web
from service.classes.comparing import Side, compare
from service.drawings import without_links
from service.marks import marks_now
from service.records import queries
from service.records.models import MARKED, STUDENT, Submission

pages = Blueprint("comparing", __name__)


@pages.get("/attempts/<int:submission_id>/beside")
def beside(submission_id: int) -> str:
    """An attempt beside another of the same student: the one that is asked for, else the one before it."""
    session, person = web.reading(), web.person()
    found = queries.submission(session, person, submission_id) or abort(404)
    every = queries.attempts(session, person, found.assignment_id, found.student_id)
    mine = person.role == STUDENT
    lines = [line for line in every if line.state == MARKED and not (mine and line.held)]
    ids = [line.id for line in lines]
    other = _other(ids, found.id)
    values = {
        "submission": found,
        "assignment": found.assignment,
        "mine": mine,
        "lines": lines,
        "other": other,
    }
    if other is None or found.id not in ids:
        return render_template("beside.html", sides=(), comparison=None, **values)
    with_it = queries.submission(session, person, other) or abort(404)
    before, after = sorted((found, with_it), key=lambda one: one.number)
    sides = (_side(before), _side(after))
    drawings = [_drawing(side.outcome) for side in sides]
    return render_template(
        "beside.html", sides=sides, drawings=drawings, comparison=compare(*sides), pair=(before, after), **values
    )


def _other(ids: list[int], shown: int) -> int | None:
    """The attempt that is asked for, where it may be, else the nearest earlier one, else the next."""
    asked = request.args.get("other", "")
    if asked.isascii() and asked.isdigit() and int(asked) in ids and int(asked) != shown:
        return int(asked)
    earlier = [one for one in ids if one < shown]
    later = [one for one in ids if one > shown]
    return earlier[-1] if earlier else later[0] if later else None


def _side(submission: Submission) -> Side:
    return Side(submission.number, Marked.model_validate(submission.outcome), marks_now(submission))


def _drawing(outcome: Marked) -> dict[str, str] | None:
    """Without links, as there are no rows here to link to."""
    drawing = outcome.drawing
    return {"svg": without_links(drawing.svg), "alternative": drawing.alternative} if drawing else None
