"""Pages of a student: the brief, handing in, earlier attempts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from rubric.brief import Brief
from rubric.drawing import charts
from rubric.messages.told import Figure
from service import web
from service.classes import examples
from service.classes.attempts_left import attempts_left, late_said, used_said
from service.classes.brief_said import facts
from service.classes.handing_in import (
    MOST_ATTEMPTS,
    NotOpen,
    NotTaken,
    TooLarge,
    TooSoon,
    check_size,
    hand_in,
    plain_file_name,
)
from service.classes.setting import brief_of, marks_wait, rubric_of
from service.contest.board import own_standing
from service.people.guards import staff_only, student_only
from service.records import queries
from service.records.models import Assignment, now
from service.rendering import zone
from service.saying import moment_said

pages = Blueprint("classes", __name__)


class Problem(NamedTuple):
    """Why a file was not taken, for the top of the form."""

    text: str
    status: int


@pages.get("/desk")
@student_only
def desk() -> str | Response:
    """The student's assignments; where there is one alone, that one."""
    found = [a for school_class in queries.classes_of(web.reading(), web.person()) for a in school_class.assignments]
    if len(found) == 1:
        return redirect(url_for("classes.assignment", assignment_id=found[0].id))
    lines = {a.id: queries.attempts(web.reading(), web.person(), a.id) for a in found}
    own = queries.own_due(web.reading(), web.person())
    due = {a.id: own.get(a.id, a.due) for a in found}
    return render_template("desk.html", assignments=found, attempts=lines, due=due)


@pages.get("/assignments/<int:assignment_id>")
@student_only
def assignment(assignment_id: int) -> Response:
    """The brief in plain words, how it is marked, hand-in, earlier attempts."""
    return _page(_found(assignment_id))


@pages.post("/assignments/<int:assignment_id>/attempts")
@student_only
def attempt(assignment_id: int) -> Response:
    """Take a file in and show its attempt."""
    found = _found(assignment_id)
    try:
        name, data = _given()
        check_size(data)
        taken = hand_in(web.writing, web.person().id, found.id, name, data)
    except NotTaken as refused:
        return _page(found, _problem(refused))
    if taken.job is not None:
        web.send(taken.job)
    else:
        flash("That is the file you handed in a moment ago. It counts once.")
    return redirect(url_for("attempts.attempt", submission_id=taken.submission_id), 303)


@pages.get("/help/truss-file")
def truss_file_help() -> str:
    """How to write a truss file."""
    return render_template(
        "truss-file.html",
        example_yaml=examples.YAML,
        example_csv=examples.CSV,
        example_working=examples.WORKING,
    )


def _found(assignment_id: int) -> Assignment:
    return queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)


def _given() -> tuple[str, bytes]:
    """The file, or where none was chosen the pasted text."""
    upload = request.files.get("file")
    if upload is not None and upload.filename:
        return plain_file_name(upload.filename), upload.read()
    return "pasted text", request.form.get("text", "").encode()


def _problem(refused: NotTaken) -> Problem:
    if isinstance(refused, NotOpen):
        return Problem(f"{refused.args[0]} It opens on {moment_said(refused.args[1], zone())}.", 403)
    if isinstance(refused, TooSoon):
        when = moment_said(refused.args[1], zone())
        return Problem(f"{refused.args[0]} You can hand in again on {when}.", 422)
    return Problem(str(refused), 413 if isinstance(refused, TooLarge) else 422)


@pages.get("/staff/assignments/<int:assignment_id>/as-a-student")
@staff_only
def as_a_student(assignment_id: int) -> Response:
    """The same page for a teacher, as it stands before anything is handed in."""
    return _page(_found(assignment_id), as_teacher=True)


def _page(found: Assignment, problem: Problem | None = None, as_teacher: bool = False) -> Response:
    session, person = web.reading(), web.person()
    brief: Brief = brief_of(found.newest)
    rubric, moment = rubric_of(found.newest), now()
    attempts = [] if as_teacher else queries.attempts(session, person, found.id)
    extension = queries.extensions(session, found.id).get(person.id)
    due = extension.due if extension else found.due
    left = attempts_left(rubric.attempts, attempts, moment)
    page = render_template(
        "assignment.html",
        assignment=found,
        brief=brief,
        facts=facts(brief),
        rubric=rubric,
        waits=marks_wait(found),
        attempts=attempts[::-1],
        so_far=_so_far(attempts),
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
        text=request.form.get("text", "") if problem else "",
    )
    return Response(page, problem.status if problem else 200, content_type="text/html; charset=utf-8")


def _so_far(attempts: Sequence[queries.AttemptLine]) -> Figure | None:
    """The points of each attempt as a chart, where there are two with points."""
    earned = [line for line in attempts if line.total is not None]
    if len(earned) < 2:
        return None
    return charts.attempts([line.total for line in attempts], "Points", most=earned[-1].out_of)
