"""Writing a brief and a rubric in the browser: checked while somebody types, tried out before anything is saved."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, abort, render_template, request
from werkzeug.wrappers import Response as Redirect

from rubric import library
from rubric.measures import CATALOGUE
from service import web
from service.classes import version_pages
from service.classes.brief_said import facts
from service.classes.checking import Both, check
from service.help.made import kinds
from service.people.guards import staff_only
from service.records import queries
from service.records.models import Assignment

pages = Blueprint("writing", __name__)

OWN = "own"
"""The texts of the assignment as they stand, among those to start from."""


@pages.get("/staff/assignments/<int:assignment_id>/writing")
@staff_only
def editor(assignment_id: int) -> str:
    """The texts of the assignment as they stand."""
    newest = _found(assignment_id).newest
    return _page(_found(assignment_id), check(newest.brief_text, newest.rubric_text))


@pages.post("/staff/assignments/<int:assignment_id>/writing")
@staff_only
def work(assignment_id: int) -> Redirect | tuple[str, int]:
    """Check what was typed, start from another text, or try it out; nothing is saved."""
    found = _found(assignment_id)
    brief, rubric = _typed()
    if request.form.get("do") == "start":
        brief, rubric = _start(found, brief, rubric)
    both = check(brief, rubric)
    if request.form.get("do") == "try" and both.fine:
        return version_pages.begin(found, (both.brief.text, both.rubric.text), None, both)
    return _page(found, both, checked=request.form.get("do") == "check"), 200 if both.fine else 422


@pages.post("/staff/writing/check")
@staff_only
def check_typed() -> str:
    """What is to be said beside the two texts, for the script to put in place."""
    return render_template("writing-said.html", **_said(check(*_typed())))


def _found(assignment_id: int) -> Assignment:
    return queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)


def _typed() -> tuple[str, str]:
    return request.form.get("brief", ""), request.form.get("rubric", "")


def _start(found: Assignment, brief: str, rubric: str) -> tuple[str, str]:
    """The texts to start from; one that is left alone stays as it was typed."""
    wanted = request.form.get("brief-from", ""), request.form.get("rubric-from", "")
    if wanted[0] == OWN:
        brief = found.newest.brief_text
    elif wanted[0] in library.brief_names():
        brief = library.brief_text(wanted[0]).decode()
    if wanted[1] == OWN:
        rubric = found.newest.rubric_text
    elif wanted[1] in library.rubric_names():
        rubric = library.rubric_text(wanted[1]).decode()
    return brief, rubric


def _said(both: Both) -> dict[str, Any]:
    return {"both": both, "facts": facts(both.brief.value) if both.brief.value else ()}


def _page(found: Assignment, both: Both, **more: Any) -> str:
    return render_template(
        "writing.html",
        assignment=found,
        briefs=library.brief_names(),
        rubrics=library.rubric_names(),
        kinds=kinds(),
        measures=sorted(CATALOGUE),
        **_said(both),
        **more,
    )
