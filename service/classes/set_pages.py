"""Setting work for a class on the web, its dates later, and extensions for one student."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response as Redirect

from rubric import library
from rubric.brief import Dates
from rubric.language import _, counted
from rubric.measures import CATALOGUE
from service import web
from service.classes import dates, rescheduling
from service.classes.brief_said import facts
from service.classes.checking import Both, check
from service.classes.dates import DateRefused
from service.classes.setting import Terms, add_contest, give, marks_wait, rubric_of
from service.help.made import kinds
from service.people.enrol import CannotEnrol
from service.people.guards import staff_only
from service.records import at_the_desk, queries
from service.records.acts import note
from service.records.models import Assignment, Person, SchoolClass
from service.rendering import zone

pages = Blueprint("setting", __name__)

READY = "ready/"
"""Before the name of a ready text, among those to start from; another assignment stands by its number."""


@dataclass(frozen=True)
class Typed:
    """The form as it stands."""

    title: str = ""
    opens: str = ""
    due: str = ""
    release: str = "at once"
    contest: str = ""
    new_contest: str = ""


@pages.get("/staff/classes/<int:class_id>/set")
@staff_only
def begin(class_id: int) -> str:
    """The form, empty, or with what another assignment asks: all but its dates."""
    found = _class(class_id)
    other = queries.assignment(web.reading(), web.person(), _number(request.args.get("from", "")))
    if other is None:
        return _page(found, check("", ""), Typed(), fresh=True)
    release = "by hand" if marks_wait(other) else "at once"
    typed = Typed(title=other.title, release=release, contest=str(other.contest_id or ""))
    return _page(found, check(other.newest.brief_text, other.newest.rubric_text), typed, copied=other)


@pages.post("/staff/classes/<int:class_id>/set")
@staff_only
def work(class_id: int) -> str | Redirect | tuple[str, int]:
    """Put other texts in, check, show what a student will see, or set the work."""
    found, do = _class(class_id), request.form.get("do", "")
    typed = Typed(**{name: request.form.get(name, "").strip() for name in Typed.__dataclass_fields__})
    texts = request.form.get("brief", ""), request.form.get("rubric", "")
    if do == "start":
        texts = _started(*texts)
    both = check(*texts)
    if do == "start" and both.brief.value and not (typed.opens or typed.due):
        typed = _dated(typed, both.brief.value.dates)
    if do in ("look", "set") and both.fine:
        try:
            opens, due = _dates()
            if do == "set":
                return _set(found, both, typed, (opens, due))
            return _page(found, both, typed, look=True, preview_due=due, preview_opens=opens)
        except (DateRefused, CannotEnrol) as refused:
            return _page(found, both, typed, problem=str(refused)), 422
    fine = both.fine or do == "start"
    return _page(found, both, typed, checked=do == "check", fresh=not any(texts)), 200 if fine else 422


@pages.get("/staff/assignments/<int:assignment_id>/copy")
@staff_only
def copy(assignment_id: int) -> str | Redirect:
    """Set the same for a class, perhaps another one, with new dates."""
    found = _assignment(assignment_id)
    if "class" not in request.args:
        classes = [one for one in queries.classes_of(web.reading(), web.person()) if one.archived_at is None]
        return render_template("copy.html", assignment=found, classes=classes)
    class_id = _class(_number(request.args["class"])).id
    return redirect(f"{url_for('setting.begin', class_id=class_id)}?from={found.id}")


@pages.route("/staff/assignments/<int:assignment_id>/dates", methods=["GET", "POST"])
@staff_only
def change_dates(assignment_id: int) -> str | Redirect | tuple[str, int]:
    """When it opens and is due, and who has a date of their own."""
    found = _assignment(assignment_id)
    if request.method == "GET":
        return _dates_page(found)
    try:
        opens, due = _dates()
    except DateRefused as refused:
        return _dates_page(found, str(refused)), 422
    with web.writing() as session:
        version = rescheduling.reschedule(session, found.id, opens, due, web.person().id)
    handed_in = queries.counts(web.reading(), found.id).attempts
    flash(_("The dates are kept."))
    if version and handed_in:
        flash(
            _("Work handed in before is late or not by the date it had. To go by the new date, mark the class again.")
        )
    return redirect(url_for("setting.change_dates", assignment_id=found.id), 303)


@pages.post("/staff/assignments/<int:assignment_id>/extensions")
@staff_only
def extend(assignment_id: int) -> Redirect | tuple[str, int]:
    """Give one student a due date of their own, or take it back."""
    found = _assignment(assignment_id)
    student = queries.student(web.reading(), web.person(), _number(request.form.get("student", "")))
    try:
        if student is None or student.class_id != found.class_id:
            raise DateRefused(_("Choose a student of the class."))
        due = (
            None if request.form.get("do") == "take" else dates.moment(_field("own-due"), _("The own due date"), zone())
        )
        if due is None and request.form.get("do") != "take":
            raise DateRefused(_("Write the date until which the student has time."))
        with web.writing() as session:
            assignment, person = session.get_one(Assignment, found.id), session.get_one(Person, student.id)
            jobs = rescheduling.extend(session, assignment, person, due, _field("why"), web.person().id)
    except DateRefused as refused:
        return _dates_page(found, str(refused)), 422
    for job in jobs:
        web.send(job)
    said = _("{student} has a date of their own now.") if due else _("{student} has the date of the class again.")
    flash(said.format(student=student.name))
    return redirect(url_for("setting.change_dates", assignment_id=found.id), 303)


@pages.post("/staff/assignments/<int:assignment_id>/extra-attempts")
@staff_only
def more_attempts(assignment_id: int) -> Redirect | tuple[str, int]:
    """Give one student attempts beyond those of the rubric, or take them back."""
    found = _assignment(assignment_id)
    student = queries.student(web.reading(), web.person(), _number(_field("student")))
    more = 0 if _field("do") == "take" else _number(_field("more"))
    try:
        if student is None or student.class_id != found.class_id:
            raise DateRefused(_("Choose a student of the class."))
        if not more and _field("do") != "take":
            raise DateRefused(_("Write how many attempts more the student has: 1 or 2, say."))
        with web.writing() as session:
            assignment, person = session.get_one(Assignment, found.id), session.get_one(Person, student.id)
            rescheduling.grant(session, assignment, person, more, _field("why"), web.person().id)
    except DateRefused as refused:
        return _dates_page(found, str(refused)), 422
    name = student.name
    given = counted(
        "{student} has {count} attempt more now.", "{student} has {count} attempts more now.", more, student=name
    )
    flash(given if more else _("{student} has as many as the class.", student=name))
    return redirect(url_for("setting.change_dates", assignment_id=found.id) + "#attempts-h", 303)


def _set(found: SchoolClass, both: Both, typed: Typed, times: tuple[datetime | None, datetime | None]) -> Redirect:
    brief, rubric = both.brief.value, both.rubric.value
    assert brief is not None
    assert rubric is not None
    with web.writing() as session:
        terms = Terms(
            title=typed.title,
            opens=times[0],
            due=times[1],
            contest_id=_contest(session, typed),
            release_by_hand=typed.release == "by hand",
            by_id=web.person().id,
        )
        made, job = give(session, found.id, (both.brief.text, both.rubric.text), (brief, rubric), terms)
        note(session, web.person().id, "work set", "assignment", made.id)
    web.send(job)
    flash(_("The work is set."))
    return redirect(url_for("classes.as_a_student", assignment_id=made.id), 303)


def _contest(session: Session, typed: Typed) -> int | None:
    """The contest chosen, or a new one; a title goes over a choice."""
    if typed.new_contest:
        return add_contest(session, typed.new_contest).id
    known = queries.contest(session, web.person(), _number(typed.contest))
    return known.id if known else None


def _started(brief: str, rubric: str) -> tuple[str, str]:
    """The texts chosen to start from; one that is left alone stays as it was typed."""
    chosen = [request.form.get(name, "") for name in ("brief-from", "rubric-from")]
    others = [queries.assignment(web.reading(), web.person(), _number(one)) for one in chosen]
    names = [one.removeprefix(READY) for one in chosen]
    if others[0]:
        brief = others[0].newest.brief_text
    elif names[0] in library.brief_names():
        brief = library.brief_text(names[0]).decode()
    if others[1]:
        rubric = others[1].newest.rubric_text
    elif names[1] in library.rubric_names():
        rubric = library.rubric_text(names[1]).decode()
    return brief, rubric


def _dated(typed: Typed, written: Dates) -> Typed:
    """Dates that stand in a brief, in the fields for them."""
    opens, due = (f"{one:%Y-%m-%dT%H:%M}" if one else "" for one in (written.opens, written.due))
    return replace(typed, opens=opens, due=due)


def _dates() -> tuple[datetime | None, datetime | None]:
    opens = dates.moment(_field("opens"), _("The opening date"), zone())
    due = dates.moment(_field("due"), _("The due date"), zone())
    dates.in_order(opens, due)
    return opens, due


def _page(found: SchoolClass, both: Both, typed: Typed, **more: Any) -> str:
    session, person = web.reading(), web.person()
    others = [(one, each) for one in queries.classes_of(session, person) for each in one.assignments]
    return render_template(
        "set-work.html",
        school_class=found,
        both=both,
        typed=typed,
        facts=facts(both.brief.value) if both.brief.value else (),
        rubric=both.rubric.value,
        brief=both.brief.value,
        briefs=library.brief_names(),
        rubrics=library.rubric_names(),
        others=others,
        contests=queries.contests_of(session, person),
        kinds=kinds(),
        measures=sorted(CATALOGUE),
        zone=zone(),
        **more,
    )


def _dates_page(found: Assignment, problem: str = "") -> str:
    session = web.reading()
    return render_template(
        "dates.html",
        assignment=found,
        opens=request.form.get("opens", dates.typed(found.opens, zone())),
        due=request.form.get("due", dates.typed(found.due, zone())),
        own=sorted(at_the_desk.extensions(session, found.id).values(), key=lambda one: one.due),
        names={one.id: one.name for one in [*found.school_class.students, *found.school_class.leavers]},
        more=at_the_desk.extra_attempts(session, found.id),
        rule=rubric_of(found.newest).attempts,
        typed=request.form,
        problem=problem,
        zone=zone(),
    )


def _field(name: str) -> str:
    return request.form.get(name, "")


def _number(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0


def _class(class_id: int) -> SchoolClass:
    return queries.school_class(web.reading(), web.person(), class_id) or abort(404)


def _assignment(assignment_id: int) -> Assignment:
    return queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)
