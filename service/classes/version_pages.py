"""Pages of versions and trials: what there is, who would change, saving, marking again, taking that back."""

from __future__ import annotations

import json

from flask import Blueprint, Response, abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Redirect

from rubric.language import _, counted
from service import web
from service.classes import trials, versions
from service.classes.checking import Both
from service.classes.compared import summary
from service.classes.setting import brief_of, rubric_of
from service.people.guards import staff_only
from service.records import queries
from service.records.models import Assignment, Trial, Version
from service.saying import file_word

pages = Blueprint("versions", __name__)

FILES = ("brief.yaml", "rubric.yaml", "brief.json", "rubric.json")


@pages.get("/staff/assignments/<int:assignment_id>/versions")
@staff_only
def table(assignment_id: int) -> str:
    """Every version, newest first: who, when, why, and how many attempts are marked under it."""
    return _table(queries.assignment(web.reading(), web.person(), assignment_id) or abort(404))


@pages.get("/staff/versions/<int:version_id>/<any(" + ", ".join(f'"{name}"' for name in FILES) + "):name>")
@staff_only
def file(version_id: int, name: str) -> Response:
    """A text as it was written, or as it was read (JSON)."""
    found = queries.version(web.reading(), web.person(), version_id) or abort(404)
    texts = {"brief.yaml": found.brief_text, "rubric.yaml": found.rubric_text}
    values = {"brief.json": found.brief, "rubric.json": found.rubric}
    text = texts[name] if name in texts else json.dumps(values[name], ensure_ascii=False, indent=2)
    saved = f"{file_word(found.assignment.title, str(found.assignment_id))}-version-{found.number}-{name}"
    headers = {"Content-Disposition": f'attachment; filename="{saved}"'}
    return Response(text, headers=headers, content_type="text/plain; charset=utf-8")


@pages.post("/staff/versions/<int:version_id>/trial")
@staff_only
def try_version(version_id: int) -> Redirect:
    """See who would change if the class were marked again under a version."""
    found = queries.version(web.reading(), web.person(), version_id) or abort(404)
    return begin(found.assignment, (found.brief_text, found.rubric_text), found)


def begin(found: Assignment, texts: tuple[str, str], version: Version | None, both: Both | None = None) -> Redirect:
    """Begin a trial, send its files to the workers and show it."""
    if both is not None and both.brief.value and both.rubric.value:
        values = both.brief.value, both.rubric.value
    else:
        assert version is not None
        values = brief_of(version), rubric_of(version)
    with web.writing() as session:
        assignment = session.get_one(Assignment, found.id)
        trial, jobs = trials.begin(session, assignment, web.person().id, texts, values, version)
    for job in jobs:
        web.send(job)
    return redirect(url_for("versions.trial", trial_id=trial.id), 303)


@pages.get("/staff/trials/<int:trial_id>")
@staff_only
def trial(trial_id: int) -> str:
    """Marks before and after, by student, by how much and why."""
    return _trial(_found(trial_id))


@pages.post("/staff/trials/<int:trial_id>/save")
@staff_only
def save(trial_id: int) -> Redirect | tuple[str, int]:
    """Save a draft as the next version, mark the class again under a version, or both."""
    found, why, do = _found(trial_id), request.form.get("why", ""), request.form.get("do", "")
    moved = 0
    if do not in ("save", "again", "both"):
        return _trial(found, problem=_("Choose one of the buttons below."), why=why), 422
    try:
        with web.writing() as session:
            jobs = []
            if do in ("save", "both"):
                jobs += versions.save(session, found.id, web.person().id, why)[1]
            if do in ("again", "both"):
                moved, sheets = versions.mark_again(session, found.id, web.person().id, why)
                jobs += sheets
    except versions.NotChanged as refused:
        return _trial(found, problem=str(refused), why=why), 422
    for job in jobs:
        web.send(job)
    flash(_("Saved as a new version.") if do == "save" else _again_said(moved))
    return redirect(url_for("versions.table", assignment_id=found.assignment_id), 303)


@pages.post("/staff/assignments/<int:assignment_id>/undo")
@staff_only
def undo(assignment_id: int) -> Redirect | tuple[str, int]:
    """Take the last marking again back; then the one before it is the last."""
    found = queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)
    try:
        with web.writing() as session:
            shown = request.form.get("trial", type=int)
            __, jobs = versions.undo(session, found.id, web.person().id, request.form.get("why", ""), shown)
    except versions.NotChanged as refused:
        return _table(found, problem=str(refused)), 422
    for job in jobs:
        web.send(job)
    flash(_("Taken back. The marks stand as they did before, and new sheets are being printed."))
    return redirect(url_for("versions.table", assignment_id=found.id), 303)


def _again_said(moved: int) -> str:
    if not moved:
        return _("Marked again. No sheet had to change.")
    return counted(
        "Marked again. {count} new sheet is being printed.",
        "Marked again. {count} new sheets are being printed.",
        moved,
    )


def _found(trial_id: int) -> Trial:
    return queries.trial(web.reading(), web.person(), trial_id) or abort(404)


def _table(found: Assignment, problem: str = "") -> str:
    session = web.reading()
    return render_template(
        "versions.html",
        assignment=found,
        marked=queries.marked_under(session, found.id),
        standing=versions.standing(session, found.id),
        problem=problem,
    )


def _trial(found: Trial, problem: str = "", why: str = "") -> str:
    session = web.reading()
    students = trials.students(session, found)
    return render_template(
        "trial.html",
        trial=found,
        assignment=found.assignment,
        students=students,
        samples=trials.tried_samples(session, found),
        summary=summary(students),
        waiting=trials.waiting(session, found),
        unsolved=trials.waiting(session, found, samples_too=False),
        draft=found.version_id is None,
        problem=problem,
        why=why,
    )
