"""Pages on which staff hand in for students: one file for one, or a zip for many; and all about one student."""

from __future__ import annotations

import base64
import binascii
from collections.abc import Sequence
from typing import Any

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Redirect

from rubric.language import _, counted
from service import web
from service.classes import history
from service.classes.assignment_page import given
from service.classes.attempts_left import attempts_left
from service.classes.bundle import Bundle, BundleRefused, Given, LeftOut, Pupil, packed_again, read_again, read_bundle
from service.classes.handing_in import NotTaken, check_size, hand_in
from service.classes.overview import counting
from service.classes.setting import rubric_of
from service.people.guards import staff_only
from service.records import at_the_desk, queries
from service.records.models import Assignment, Person, now
from service.records.queries import AttemptLine

pages = Blueprint("students", __name__)

LARGEST = 8_000_000
"""Bytes of a whole request: a zip, or its files again in the form that confirms it."""

LARGEST_FIELD = 6_000_000


@pages.url_value_preprocessor
def _room(endpoint: str | None, __: dict[str, Any] | None) -> None:
    """A zip may be larger than a truss file; said before anything reads the form."""
    if endpoint in ("students.look", "students.take"):
        request.max_content_length, request.max_form_memory_size = LARGEST, LARGEST_FIELD


@pages.get("/staff/students/<int:student_id>")
@staff_only
def student(student_id: int) -> str:
    """Everything that one student handed in, with what counts and what was changed."""
    session, person = web.reading(), web.person()
    found = _student(student_id)
    lines = queries.attempts_of(session, person, found.id)
    works = []
    for assignment in queries.assignments_for(session, person, found):
        own = [line for line in lines if line.assignment_id == assignment.id]
        works.append((assignment, own, counting(own, rubric_of(assignment.newest).attempts)))
    return render_template(
        "student.html",
        student=found,
        works=works,
        own_due=at_the_desk.own_due(session, found),
        attempts_said={one.id: _attempts_said(one, found, own) for one, own, __ in works},
        history=[(line, history.entries(session, line.id)) for line in lines],
    )


def _attempts_said(assignment: Assignment, student: Person, own: Sequence[AttemptLine]) -> str:
    """How many attempts are used and how many there are; nothing where there is no end to them."""
    more = at_the_desk.more_of(web.reading(), assignment.id, student.id)
    left = attempts_left(rubric_of(assignment.newest).attempts, own, now(), more)
    if left.left is None:
        return ""
    every = left.used + left.left
    if more:
        return counted(
            "{used} of {count} attempt used, {more} of them given to this student alone.",
            "{used} of {count} attempts used, {more} of them given to this student alone.",
            every,
            used=left.used,
            more=more,
        )
    return counted("{used} of {count} attempt used.", "{used} of {count} attempts used.", every, used=left.used)


@pages.route("/staff/assignments/<int:assignment_id>/students/<int:student_id>/hand-in", methods=["GET", "POST"])
@staff_only
def hand_in_for(assignment_id: int, student_id: int) -> str | Redirect | tuple[str, int]:
    """Hand in a file for one student."""
    found, who = _assignment(assignment_id), _student(student_id)
    if who.class_id != found.class_id:
        abort(404)
    if request.method == "GET":
        return render_template("hand-in-for.html", assignment=found, student=who)
    try:
        name, data = given()
        check_size(data)
        taken = hand_in(web.writing, who.id, found.id, name, data, by_id=web.person().id)
    except NotTaken as refused:
        text = request.form.get("text", "")
        return render_template("hand-in-for.html", assignment=found, student=who, problem=str(refused), text=text), 422
    if taken.job is not None:
        web.send(taken.job)
    flash(_("Handed in for {student}.", student=who.name))
    return redirect(url_for("attempts.attempt", submission_id=taken.submission_id), 303)


@pages.get("/staff/assignments/<int:assignment_id>/bundle")
@staff_only
def bundle(assignment_id: int) -> str:
    """Where a zip is chosen."""
    return render_template("bundle.html", assignment=_assignment(assignment_id))


@pages.post("/staff/assignments/<int:assignment_id>/bundle")
@staff_only
def look(assignment_id: int) -> str | tuple[str, int]:
    """Say whose each file is and which are left out; nothing is written."""
    found = _assignment(assignment_id)
    upload = request.files.get("file")
    data = upload.read() if upload else b""
    if not data:
        return render_template("bundle.html", assignment=found, problem=_("Choose a zip first.")), 422
    try:
        return _shown(found, _without_old(found, read_bundle(data, _pupils(found))))
    except BundleRefused as refused:
        return render_template("bundle.html", assignment=found, problem=str(refused)), 422


@pages.post("/staff/assignments/<int:assignment_id>/bundle/take")
@staff_only
def take(assignment_id: int) -> str | Redirect | tuple[str, int]:
    """Hand in exactly what was shown."""
    found = _assignment(assignment_id)
    try:
        data = base64.b64decode(request.form.get("files", ""), validate=True)
        again = _without_old(found, read_again(data, _pupils(found)))
    except (BundleRefused, binascii.Error):
        problem = _("What was sent is not what was shown. Choose the zip again.")
        return render_template("bundle.html", assignment=found, problem=problem), 422
    if again.digest != request.form.get("shown"):
        return _shown(found, again, problem=_("Something was handed in meanwhile. Look again.")), 422
    refused = [left for left in (_hand_in(found, one) for one in again.given) if left is not None]
    handed_in = len(again.given) - len(refused)
    flash(counted("{count} file handed in for the class.", "{count} files handed in for the class.", handed_in))
    for left in refused:
        flash(_("Not taken: {file}, because {why}", file=left.file_name, why=left.why))
    return redirect(url_for("teaching.class_table", assignment_id=found.id), 303)


def _hand_in(found: Assignment, one: Given) -> LeftOut | None:
    try:
        taken = hand_in(web.writing, one.pupil.id, found.id, one.file_name, one.data, by_id=web.person().id)
    except NotTaken as refused:
        return LeftOut(one.file_name, str(refused))
    if taken.job is not None:
        web.send(taken.job)
    return None


def _pupils(found: Assignment) -> list[Pupil]:
    return [Pupil(one.id, one.name, one.roster_number or "") for one in found.school_class.students]


def _without_old(found: Assignment, bundle: Bundle) -> Bundle:
    """Leave out what is the newest attempt of its student already, so that a zip may be sent twice."""
    newest = at_the_desk.newest_files(web.reading(), found.id)
    old = [one for one in bundle.given if newest.get(one.pupil.id) == one.sha256]
    said = [LeftOut(one.file_name, _newest_already(one.pupil)) for one in old]
    return Bundle(tuple(one for one in bundle.given if one not in old), (*bundle.left, *said))


def _newest_already(pupil: Pupil) -> str:
    return _("it is the newest attempt of {student} already", student=pupil.name)


def _shown(found: Assignment, bundle: Bundle, problem: str = "") -> str:
    taken = {one.pupil.id for one in bundle.given}
    return render_template(
        "bundle.html",
        assignment=found,
        bundle=bundle,
        without=[one.name for one in _pupils(found) if one.id not in taken],
        files=base64.b64encode(packed_again(bundle)).decode(),
        problem=problem,
    )


def _student(student_id: int) -> Person:
    return queries.student(web.reading(), web.person(), student_id) or abort(404)


def _assignment(assignment_id: int) -> Assignment:
    return queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)
