"""Pages of a student: the assignments, handing in, how a truss file is written."""

from __future__ import annotations

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from rubric.language import _, as_language, speaking
from service import web
from service.classes import examples
from service.classes.assignment_page import Problem, assignment_or_404, assignment_page, given
from service.classes.handing_in import NotOpen, NotTaken, TooLarge, TooSoon, check_size, hand_in
from service.help.truss_keys import keys_of_file
from service.people.guards import staff_only, student_only
from service.records import at_the_desk, queries
from service.rendering import zone
from service.saying import moment_said

pages = Blueprint("classes", __name__)


@pages.get("/desk")
@student_only
def desk() -> str | Response:
    """The student's assignments; where there is one alone, that one."""
    found = [a for school_class in queries.classes_of(web.reading(), web.person()) for a in school_class.assignments]
    if len(found) == 1:
        return redirect(url_for("classes.assignment", assignment_id=found[0].id))
    lines = {a.id: queries.attempts(web.reading(), web.person(), a.id) for a in found}
    own = at_the_desk.own_due(web.reading(), web.person())
    due = {a.id: own.get(a.id, a.due) for a in found}
    return render_template("desk.html", assignments=found, attempts=lines, due=due)


@pages.get("/assignments/<int:assignment_id>")
@student_only
def assignment(assignment_id: int) -> Response:
    """The brief in plain words, how it is marked, hand-in, earlier attempts."""
    return assignment_page(assignment_or_404(assignment_id))


@pages.post("/assignments/<int:assignment_id>/attempts")
@student_only
def attempt(assignment_id: int) -> Response:
    """Take a file in and show its attempt."""
    found = assignment_or_404(assignment_id)
    try:
        name, data = given()
        check_size(data)
        taken = hand_in(web.writing, web.person().id, found.id, name, data)
    except NotTaken as refused:
        return assignment_page(found, _problem(refused))
    if taken.job is not None:
        web.send(taken.job)
    else:
        flash(_("That is the file you handed in a moment ago. It counts once."))
    return redirect(url_for("attempts.attempt", submission_id=taken.submission_id), 303)


@pages.get("/staff/assignments/<int:assignment_id>/as-a-student")
@staff_only
def as_a_student(assignment_id: int) -> Response:
    """The same page for a teacher, as it stands before anything is handed in."""
    found = assignment_or_404(assignment_id)
    with speaking(as_language(found.school_class.language)):
        return assignment_page(found, as_teacher=True)


@pages.get("/help/truss-file")
def truss_file_help() -> str:
    """How to write a truss file."""
    return render_template(
        "truss-file.html",
        example_yaml=examples.YAML,
        example_csv=examples.CSV,
        example_working=examples.WORKING,
        keys=keys_of_file(),
    )


def _problem(refused: NotTaken) -> Problem:
    if isinstance(refused, NotOpen):
        opens = _("It opens on {when}.", when=moment_said(refused.args[1], zone()))
        return Problem(f"{refused.args[0]} {opens}", 403)
    if isinstance(refused, TooSoon):
        again = _("You can hand in again on {when}.", when=moment_said(refused.args[1], zone()))
        return Problem(f"{refused.args[0]} {again}", 422)
    return Problem(str(refused), 413 if isinstance(refused, TooLarge) else 422)
