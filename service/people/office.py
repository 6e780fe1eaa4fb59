"""The coordinator's office: classes, who teaches them, and passwords of the staff."""

from __future__ import annotations

from collections.abc import Callable, Set

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response

from rubric.language import _
from service import web
from service.people import enrol
from service.people.enrol import CannotEnrol, SignIn
from service.people.guards import only
from service.records.acts import note
from service.records.models import COORDINATOR, STUDENT, TEACHER, Person, SchoolClass, Teaching

pages = Blueprint("office", __name__)

coordinator_only = only(COORDINATOR)


@pages.get("/staff/office")
@coordinator_only
def office() -> str:
    """Classes and staff, and the forms that add to them."""
    return _page()


@pages.post("/staff/office/classes")
@coordinator_only
def add_class() -> str | Response | tuple[str, int]:
    """A class without students yet: its list is brought in on its own page."""
    name, code = request.form.get("name", ""), request.form.get("code", "")
    try:
        with web.writing() as session:
            made = enrol.empty_class(session, name, code)
            number = made.id
            note(session, web.person().id, "class made", "class", number, made.code)
    except CannotEnrol as refused:
        return _page(problem=str(refused)), 422
    flash(_("The class is made. Bring in its list now."))
    return redirect(url_for("rosters.bring", class_id=number), 303)


@pages.post("/staff/office/classes/<int:class_id>/name")
@coordinator_only
def rename_class(class_id: int) -> Response:
    """Call a class something else; students go on signing in with its code."""
    if web.reading().get(SchoolClass, class_id) is None:
        abort(404)
    try:
        with web.writing() as session:
            found = session.get_one(SchoolClass, class_id)
            enrol.rename_class(session, web.person().id, found, request.form.get("name", ""))
            said = _("The class is called {name} now. Its code is still {code}.", name=found.name, code=found.code)
    except CannotEnrol as refused:
        said = str(refused)
    flash(said)
    return redirect(url_for("teaching.class_list", class_id=class_id), 303)


@pages.post("/staff/office/people")
@coordinator_only
def add_person() -> str | tuple[str, int]:
    """A teacher, or one more coordinator; the password is shown once."""
    role = COORDINATOR if request.form.get("role") == COORDINATOR else TEACHER
    codes = request.form.getlist("class")
    return _with_secret(
        lambda session: enrol.add_staff(session, role, request.form.get("name", ""), codes), "staff added", role
    )


@pages.post("/staff/office/people/<int:person_id>/password")
@coordinator_only
def new_password(person_id: int) -> str | tuple[str, int]:
    """A new password for one of the staff; the old one stops working and every session ends."""
    _staff(web.reading(), person_id)
    return _with_secret(lambda session: enrol.new_secret(session, _staff(session, person_id)), "new sign-in")


@pages.post("/staff/office/people/<int:person_id>/classes")
@coordinator_only
def teaches(person_id: int) -> Response:
    """Exactly the classes that are ticked are taught by this teacher from now on."""
    wanted = {int(value) for value in request.form.getlist("class") if value.isascii() and value.isdigit()}
    with web.writing() as session:
        person = _staff(session, person_id)
        known = set(session.scalars(select(SchoolClass.id).where(SchoolClass.id.in_(wanted))))
        teach_exactly(session, web.person().id, person, known)
        name = person.name
    flash(_("{name} teaches what is ticked now.", name=name))
    return redirect(url_for("office.office"), 303)


def teach_exactly(session: Session, by_id: int, person: Person, wanted: Set[int]) -> None:
    """Let somebody teach these classes from now on, and no other."""
    there = {row.class_id: row for row in session.scalars(select(Teaching).where(Teaching.person_id == person.id))}
    for class_id in wanted - set(there):
        session.add(Teaching(person_id=person.id, class_id=class_id))
    for class_id in set(there) - wanted:
        session.delete(there[class_id])
    for class_id in sorted(wanted ^ set(there)):
        word = "taken up" if class_id in wanted else "given up"
        note(session, by_id, "classes taught", "person", person.id, f"{word}: class no. {class_id}")


def _staff(session: Session, person_id: int) -> Person:
    found = session.get(Person, person_id)
    if found is None or found.role == STUDENT:
        abort(404)
    return found


def _with_secret(make: Callable[[Session], SignIn], what: str, word: str = "") -> str | tuple[str, int]:
    try:
        with web.writing() as session:
            signs = make(session)
            person = enrol.find_person(session, signs.name)
            note(session, web.person().id, what, "person", person.id, word)
    except CannotEnrol as refused:
        return _page(problem=str(refused)), 422
    return render_template("password.html", sign_in=signs)


def _page(problem: str = "") -> str:
    session = web.reading()
    staff = list(session.scalars(select(Person).where(Person.role != STUDENT).order_by(Person.name)))
    teaching: dict[int, set[int]] = {person.id: set() for person in staff}
    for row in session.scalars(select(Teaching)):
        teaching.setdefault(row.person_id, set()).add(row.class_id)
    return render_template(
        "office.html",
        problem=problem,
        classes=list(session.scalars(select(SchoolClass).order_by(SchoolClass.name))),
        staff=staff,
        teaching=teaching,
        typed=request.form,
    )
