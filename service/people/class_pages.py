"""Pages of a class that are not about work: aliases that students ask for, and putting a class away."""

from __future__ import annotations

from flask import Blueprint, abort, flash, redirect, request, url_for
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response as Redirect

from rubric.language import LANGUAGES, Language, _, as_language
from service import web
from service.people.aliases import free_aliases, is_alias, refuse, settle
from service.people.guards import staff_only
from service.records import queries
from service.records.acts import note
from service.records.models import Person, SchoolClass, now

pages = Blueprint("class_desk", __name__)


@pages.post("/staff/students/<int:student_id>/alias")
@staff_only
def alias(student_id: int) -> Redirect:
    """Let a student have the alias that was asked for, refuse it, or give a drawn one in place of any."""
    found = queries.student(web.reading(), web.person(), student_id) or abort(404)
    do, shown = request.form.get("do", ""), request.form.get("alias", "")
    try:
        with web.writing() as session:
            student, why = session.get_one(Person, found.id), request.form.get("why", "")
            said = settle_alias(session, web.person().id, student, do, shown, why)
    except IntegrityError:
        said = _("Somebody else took that alias meanwhile. The student has to ask for another one.")
    flash(said or _("Nothing was changed."))
    return redirect(url_for("teaching.class_list", class_id=found.class_id), 303)


@pages.post("/staff/classes/<int:class_id>/archive")
@staff_only
def archive(class_id: int) -> Redirect:
    """Put a class away, or take it back onto the desk."""
    found = queries.school_class(web.reading(), web.person(), class_id) or abort(404)
    away = request.form.get("do") != "back"
    with web.writing() as session:
        put_away(session, web.person().id, session.get_one(SchoolClass, found.id), away)
    said = _("{name} is put away. All its work is kept.") if away else _("{name} is on your desk again.")
    flash(said.format(name=found.name))
    there = url_for("teaching.staff_desk") if away else url_for("teaching.class_list", class_id=found.id)
    return redirect(there, 303)


@pages.post("/staff/classes/<int:class_id>/language")
@staff_only
def language(class_id: int) -> Redirect:
    """Choose the language of a class's pages and sheets."""
    found = queries.school_class(web.reading(), web.person(), class_id) or abort(404)
    chosen = as_language(request.form.get("language", found.language))
    with web.writing() as session:
        choose_language(session, web.person().id, session.get_one(SchoolClass, found.id), chosen)
    flash(_("Pages and sheets of {name} are in {language} from now on.", name=found.name, language=LANGUAGES[chosen]))
    return redirect(url_for("teaching.class_list", class_id=found.id), 303)


def put_away(session: Session, by_id: int, school_class: SchoolClass, away: bool) -> None:
    """Put a class away, or take it back onto the desk."""
    school_class.archived_at = now() if away else None
    what = "class put away" if away else "class opened again"
    note(session, by_id, what, "class", school_class.id, school_class.code)


def choose_language(session: Session, by_id: int, school_class: SchoolClass, chosen: Language) -> None:
    """Let a class's pages and sheets speak another language."""
    if chosen != school_class.language:
        school_class.language = chosen
        note(session, by_id, "language of a class", "class", school_class.id, chosen)


def settle_alias(session: Session, by_id: int, student: Person, do: str, shown: str, why: str) -> str:
    """Allow the alias that was shown, refuse it, or draw another; what was done, in words, or nothing.

    Parameters
    ----------
    do
        'allow', 'refuse' or 'another'.
    why
        For the student to read where it is refused.
    """
    said = _settle(student, do, shown, free_aliases(session, 1)[0], why)
    if said:
        note(session, by_id, "alias allowed" if do == "allow" else "alias refused", "person", student.id)
    return said


def _settle(student: Person, do: str, shown: str, drawn: str, why: str) -> str:
    """What was done; an alias that is not the one that was shown is left alone."""
    if do == "another":
        if student.alias and not is_alias(student.alias):  # in own words: taking it away is a refusal too
            refuse(student, student.alias, why)
        student.alias, student.alias_asked = drawn, None
        return _("The student is called {alias} on boards now.", alias=drawn)
    if student.alias_asked is None or student.alias_asked != shown:
        return ""
    student.alias_asked = None
    if do != "allow":
        refuse(student, shown, why)
        return _("Refused. The student keeps the alias of before, and reads that this one was refused.")
    student.alias = shown
    settle(student)
    return _("The student is called {alias} on boards now.", alias=shown)
