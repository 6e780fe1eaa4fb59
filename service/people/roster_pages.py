"""Pages that bring a class list in and print sign-in cards."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from sqlalchemy.exc import IntegrityError
from werkzeug.wrappers import Response as Redirect

from rubric.language import _, as_language, speaking
from service import web
from service.people import rosters
from service.people.cards import cards
from service.people.enrol import CannotEnrol, SignIn
from service.people.guards import staff_only
from service.people.lists.columns import ROLES, Columns, recognised
from service.people.lists.oneroster import Group, class_id, read_zip, same_class
from service.people.lists.plan import Plan, plan
from service.people.lists.pupils import Read, pupils
from service.people.lists.tables import ListRefused, Row, as_text, read_table
from service.records import queries
from service.records.acts import note
from service.records.models import Person, SchoolClass

pages = Blueprint("rosters", __name__)

LARGEST = 8_000_000
"""Bytes of a whole request: the class-list export of a large school."""

LARGEST_TEXT = 400_000


@pages.url_value_preprocessor
def _room(_endpoint: str | None, __: dict[str, Any] | None) -> None:
    """Lists may be larger than truss files; said before anything reads the form."""
    request.max_content_length, request.max_form_memory_size, request.max_form_parts = LARGEST, LARGEST_TEXT, 100


@pages.get("/staff/classes/<int:class_id>/list")
@staff_only
def bring(class_id: int) -> str:
    """Where a list is pasted or uploaded."""
    return render_template("roster.html", school_class=_found(class_id))


@pages.post("/staff/classes/<int:class_id>/list")
@staff_only
def look(class_id: int) -> str | tuple[str, int]:
    """Show what was understood and what would change; nothing is written."""
    found = _found(class_id)
    try:
        text, groups = _given()
        if text:
            return _shown(found, text)
        chosen = same_class(groups, found.sourced_id) or (groups[0] if len(groups) == 1 else None)
        others = [(group, _list_of(group)) for group in groups if group is not chosen]
        if chosen is None:
            return render_template("roster.html", school_class=found, groups=others)
        return _shown(found, _list_of(chosen), group=chosen, others=others)
    except ListRefused as refused:
        return render_template("roster.html", school_class=found, problem=str(refused)), 422


@pages.post("/staff/classes/<int:class_id>/list/bring")
@staff_only
def write(class_id: int) -> str | tuple[str, int]:
    """Bring the list in as it was shown, and show the cards of whoever is new."""
    found = _found(class_id)
    try:
        text = request.form.get("list", "")
        read, *__ = _understood(text, found)
        wanted = plan(read.pupils, rosters.here(web.reading(), class_id))
        if request.form.get("shown") != _summary(wanted):
            return _shown(found, text, problem=_("Somebody changed the class meanwhile. Look again."))
        words = rosters.new_words(web.reading(), class_id, len(wanted.new))
        with web.writing() as session:
            school_class = session.get_one(SchoolClass, class_id)
            with_leavers, sourced_id = request.form.get("leavers") == "yes", _class_id()
            signs = rosters.bring_in(session, school_class, wanted, words, with_leavers, sourced_id)
            note(session, web.person().id, "class list brought in", "class", class_id, f"{len(wanted.new)} new")
    except (ListRefused, CannotEnrol) as refused:
        return render_template("roster.html", school_class=found, problem=str(refused)), 422
    except IntegrityError:
        return _shown(found, text, problem=_("Somebody changed the class in the same moment. Look again."))
    return _cards(found, signs, wanted)


@pages.post("/staff/classes/<int:class_id>/cards")
@staff_only
def reissue(class_id: int) -> str:
    """New words for everybody in the class, on cards."""
    found = _found(class_id)
    words = rosters.new_words(web.reading(), class_id, len(found.students))
    with web.writing() as session:
        students = [session.get_one(Person, student.id) for student in found.students]
        signs = rosters.new_cards(session, students, words)
        note(session, web.person().id, "new cards for a class", "class", class_id)
    return _cards(found, signs, None)


@pages.post("/staff/students/<int:student_id>/leave")
@staff_only
def leave(student_id: int) -> Redirect:
    """Put one student with the leavers, or take him back."""
    found = queries.student(web.reading(), web.person(), student_id) or abort(404)
    with web.writing() as session:
        person = session.get_one(Person, found.id)
        if person.left_at is None:
            rosters.set_apart(session, web.person().id, person, True)
            flash(_("{name} is with the leavers now and cannot sign in. All work is kept.", name=found.name))
        else:
            rosters.set_apart(session, web.person().id, person, False)
            flash(_("{name} is back in the class.", name=found.name))
    return redirect(url_for("teaching.class_list", class_id=found.class_id), 303)


def _found(class_id: int) -> SchoolClass:
    return queries.school_class(web.reading(), web.person(), class_id) or abort(404)


def _given() -> tuple[str, tuple[Group, ...]]:
    """The list as text, or the classes of an export to choose from."""
    upload = request.files.get("file")
    data = upload.read(LARGEST) if upload else b""
    if data.startswith(b"PK"):
        return "", read_zip(data)
    if data:
        rows = read_table(data)
        return as_text([row.cells for row in rows]), ()
    return request.form.get("list", ""), ()


def _list_of(group: Group) -> str:
    return as_text([("Name", "Number"), *((pupil.name, pupil.number) for pupil in group.pupils)])


def _class_id() -> str:
    """What the export calls the class, where the form came from one."""
    return class_id(request.form.get("sourced-id", ""))


def _understood(text: str, found: SchoolClass) -> tuple[Read, Columns, tuple[Row, ...]]:
    """The pupils of the list by the columns as the form has them, else as they are recognised."""
    rows = read_table(text)
    guessed = recognised(rows)
    chosen = tuple(
        role if (role := request.form.get(f"column-{place}", guess)) in ROLES else guess
        for place, guess in enumerate(guessed.roles)
    )
    columns = Columns(guessed.headed, chosen)
    read = pupils(rows, columns)
    wanted = request.form.get("group", found.code)
    groups = {pupil.class_code for pupil in read.pupils}
    if len(groups) > 1 and wanted in groups:
        read = Read(tuple(pupil for pupil in read.pupils if pupil.class_code == wanted), read.problems)
    return read, columns, rows


def _shown(
    found: SchoolClass,
    text: str,
    problem: str = "",
    group: Group | None = None,
    others: Sequence[tuple[Group, str]] = (),
) -> str:
    """The list beside who is here; ``others`` are the other classes of the export, to choose from."""
    sourced_id = class_id(group.key) if group else _class_id()
    read, columns, rows = _understood(text, found)
    every = pupils(rows, columns)
    wanted = plan(read.pupils, rosters.here(web.reading(), found.id))
    return render_template(
        "roster.html",
        school_class=found,
        problem=problem,
        text=text,
        sourced_id=sourced_id,
        of_export=group,
        others=others,
        columns=columns,
        roles=ROLES,
        first=rows[:3],
        read=read,
        plan=wanted,
        shown=_summary(wanted),
        groups_in_list=sorted({pupil.class_code for pupil in every.pupils if pupil.class_code}),
        group=request.form.get("group", found.code),
    )


def _summary(wanted: Plan) -> str:
    """What was shown, so that exactly that is written."""
    kinds = (wanted.new, wanted.renamed, wanted.numbered, wanted.back, wanted.leavers)
    return "-".join(str(len(kind)) for kind in kinds)


def _cards(found: SchoolClass, signs: list[SignIn], wanted: Plan | None) -> str:
    entrance = url_for("people.sign_in", _external=True)
    with speaking(as_language(found.language)):  # students read the cards, and staff the page
        labels = _("Class code"), _("Three words")
    return render_template("cards.html", school_class=found, cards=cards(signs, entrance), plan=wanted, labels=labels)
