"""The page of an assignment as a student sees it: what to build, how it is marked, and where the file is written."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from flask import Response, abort, render_template, request

from rubric.drawing import charts
from rubric.language import _
from rubric.messages.told import Figure
from service import web
from service.classes.attempts_left import attempts_left, late_said, used_said
from service.classes.brief_said import facts
from service.classes.handing_in import MOST_ATTEMPTS, plain_file_name
from service.classes.looked import looked
from service.classes.setting import brief_of, marks_wait, rubric_of
from service.classes.sketches import sketch_of
from service.classes.starting import example
from service.contest.board import own_standing
from service.help.words import linked
from service.records import at_the_desk, queries
from service.records.models import Assignment, Sketch, now
from service.records.queries import AttemptLine


class Problem(NamedTuple):
    """Why a file was not taken, for the top of the form."""

    text: str
    status: int


def assignment_or_404(assignment_id: int) -> Assignment:
    """An assignment of a class of the person who asks."""
    return queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)


def given() -> tuple[str, bytes]:
    """The file, or where none was chosen the text that was typed."""
    upload = request.files.get("file")
    if upload is not None and upload.filename:
        return plain_file_name(upload.filename), upload.read()
    return "pasted text", request.form.get("text", "").encode()


def assignment_page(found: Assignment, problem: Problem | None = None, *, as_teacher: bool = False) -> Response:
    """The whole page; with a ``problem`` the text that was typed is still in it."""
    session, person = web.reading(), web.person()
    rubric, moment, brief = rubric_of(found.newest), now(), brief_of(found.newest)
    attempts = [] if as_teacher else queries.attempts(session, person, found.id)
    extension = at_the_desk.extensions(session, found.id).get(person.id)
    due = extension.due if extension else found.due
    more = at_the_desk.more_of(session, found.id, person.id)
    left = attempts_left(rubric.attempts, attempts, moment, more)
    start, sketch = example(brief), sketch_of(session, person.id, found.id)
    page = render_template(
        "assignment.html",
        assignment=found,
        brief=brief,
        facts=linked(facts(brief)),
        rubric=rubric,
        waits=marks_wait(found),
        attempts=attempts[::-1],
        so_far=_so_far(attempts),
        best=best(attempts),
        left=left,
        used=used_said(left),
        late=late_said(rubric.lateness, due, moment),
        due=due,
        extension=extension,
        as_teacher=as_teacher,
        most_attempts=MOST_ATTEMPTS,
        standing=own_standing(queries.assignment_board(session, found.id), person.id),
        is_open=found.opens is None or found.opens <= moment,
        problem=problem,
        example=start,
        **_typed(sketch, problem, start),
        **looked(sketch),
    )
    return Response(page, problem.status if problem else 200, content_type="text/html; charset=utf-8")


def best(attempts: list[AttemptLine]) -> AttemptLine | None:
    """The attempt with the most points, the first of equals; None while none has any."""
    marked = [line for line in attempts if line.total and not line.has_mistakes]
    return max(marked, key=lambda line: line.total or 0.0, default=None)


def _so_far(attempts: Sequence[AttemptLine]) -> Figure | None:
    """The points of each attempt as a chart, where there are two with points."""
    earned = [line for line in attempts if line.total is not None]
    if len(earned) < 2:
        return None
    return charts.attempts([line.total for line in attempts], _("Points"), most=earned[-1].out_of)


def _typed(sketch: Sketch | None, problem: Problem | None, start: str) -> dict[str, Any]:
    """What stands in the field, and whether it goes before what the browser kept."""
    if problem:
        return {"text": request.form.get("text", ""), "fresh": True}
    if request.args.get("begin") == "example":
        return {"text": start, "fresh": True}
    return {"text": sketch.file.decode("utf-8-sig", "replace") if sketch else "", "fresh": False}
