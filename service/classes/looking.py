"""Looking at a file before it is handed in: by a button, or as somebody types."""

from __future__ import annotations

from flask import Blueprint, Response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Redirect

from rubric.language import _
from service import web
from service.classes.assignment_page import Problem, assignment_or_404, assignment_page, given
from service.classes.handing_in import NotTaken, TooLarge, check_size
from service.classes.looked import looked
from service.classes.sketches import AskedTooSoon, ask, sketch_of
from service.people.guards import student_only
from service.records.models import Sketch

pages = Blueprint("looking", __name__)


@pages.post("/assignments/<int:assignment_id>/look")
@student_only
def look(assignment_id: int) -> Response | Redirect:
    """Have a text looked at; nothing is handed in.  A script gets what stands beside the text, others the page."""
    found = assignment_or_404(assignment_id)
    quiet = request.form.get("quiet") == "1"
    try:
        __, data = given()
        check_size(data)
        with web.writing() as session:
            sketch = ask(session, web.person().id, found.id, data)
    except NotTaken as refused:
        problem = Problem(str(refused), 413 if isinstance(refused, TooLarge) else 422)
        return Response(problem.text, problem.status, content_type="text/plain") if quiet else _again(found.id, problem)
    except AskedTooSoon:
        if quiet:
            return Response(_("Too soon."), 429, {"Retry-After": "1"}, content_type="text/plain")
        return _again(found.id, Problem(_("That was very fast. Wait a second, then press the button again."), 429))
    web.look(sketch)
    if quiet:
        return _beside(sketch)
    return redirect(url_for("classes.assignment", assignment_id=found.id, _anchor="hand-in"), 303)


@pages.get("/assignments/<int:assignment_id>/look")
@student_only
def seen(assignment_id: int) -> Response:
    """What stands beside the text, for the script to put in place."""
    found = assignment_or_404(assignment_id)
    return _beside(sketch_of(web.reading(), web.person().id, found.id))


def _beside(sketch: Sketch | None) -> Response:
    page = render_template("looked.html", **looked(sketch))
    return Response(page, content_type="text/html; charset=utf-8")


def _again(assignment_id: int, problem: Problem) -> Response:
    return assignment_page(assignment_or_404(assignment_id), problem)
