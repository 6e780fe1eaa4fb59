"""What programs may do in the coordinator's office: classes, staff, the record, time of keeping."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from datetime import time as clock

from flask import request, url_for
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response

from service import web
from service.api import office_shapes as shapes
from service.api.answering import answer, carrying_out, moment, page, pages
from service.api.asking import body_as, for_programs, number_wanted, page_wanted, token
from service.api.problems import Refusal
from service.api.programs import class_shape
from service.api.tokens import READ_NAMES
from service.people import enrol
from service.people.lists.oneroster import class_id as class_id_of
from service.people.office import teach_exactly
from service.privacy import keeping as times
from service.privacy.doings import KINDS, Doing, Wanted, doings
from service.privacy.years import years
from service.records.acts import note
from service.records.models import STUDENT, TEACHER, Person, SchoolClass, Teaching
from service.rendering import zone
from service.saying import to_utc

FIRST_DAY, LAST_DAY = date(1970, 1, 2), date(9000, 1, 1)
"""Of the record that may be asked for."""


@pages.get("/office/classes")
@for_programs
def office_classes() -> Response:
    """All classes of the school."""
    items, more = page(select(SchoolClass), SchoolClass.id, _class)
    return answer(shapes.OfficeClasses(items=items, next=more))


@pages.post("/office/classes")
@for_programs
def make_class() -> Response:
    """A class without students yet; a token for it is made on its page."""
    new = body_as(shapes.NewClass)
    with carrying_out() as (session, who):
        made = enrol.empty_class(session, new.name, new.code, class_id_of(new.sourced_id))
        number = made.id
        note(session, who.id, "class made", "class", number, made.code)
    made = web.reading().get_one(SchoolClass, number)
    return answer(class_shape(made), 201, url_for("programs.school_class", class_id=number))


@pages.post("/office/classes/<int:class_id>")
@for_programs
def rename_class(class_id: int) -> Response:
    """Call a class something else."""
    new = body_as(shapes.ClassName)
    with carrying_out() as (session, who):
        enrol.rename_class(session, who.id, _class_row(session, class_id), new.name)
    return answer(class_shape(_class_row(web.reading(), class_id)))


@pages.get("/office/staff")
@for_programs
def staff() -> Response:
    """The staff."""
    items, more = page(select(Person).where(Person.role != STUDENT), Person.id, _member)
    return answer(shapes.Staff(items=items, next=more))


@pages.post("/office/staff")
@for_programs
def add_teacher() -> Response:
    """A teacher; nobody is told the password, so that only a new one from the page of the office opens the account."""
    new = body_as(shapes.NewTeacher)
    with carrying_out() as (session, who):
        classes = _known(session, new.class_ids)
        person = enrol.find_person(session, enrol.add_staff(session, TEACHER, new.name).name)
        note(session, who.id, "staff added", "person", person.id, TEACHER)
        teach_exactly(session, who.id, person, classes)
        number = person.id
    return answer(_member(_the_member(number)), 201)


@pages.post("/office/staff/<int:person_id>/classes")
@for_programs
def teaches(person_id: int) -> Response:
    """Say which classes somebody teaches from now on."""
    found, new = _the_member(person_id), body_as(shapes.Taught)
    with carrying_out() as (session, who):
        teach_exactly(session, who.id, session.get_one(Person, found.id), _known(session, new.class_ids))
    return answer(_member(_the_member(person_id)))


@pages.get("/office/record")
@for_programs
def record() -> Response:
    """Who did what and when."""
    kind, number = request.args.get("kind"), max(page_wanted()[0], 1)
    if kind is not None and kind not in KINDS:
        raise Refusal(400, "No such kind", f"'kind' is one of: {', '.join(KINDS)}.")
    since, until = _day("since"), _day("until")
    wanted = Wanted(
        kind=kind,
        by_id=number_wanted("by_id"),
        since=_begin(since) if since else None,
        until=_begin(until + timedelta(days=1)) if until else None,
        page=number,
    )
    lines, more = doings(web.reading(), wanted)
    items = tuple(_done(line) for line in lines)
    return answer(shapes.Record(items=items, next=str(number + 1) if more else None))


@pages.get("/office/keeping")
@for_programs
def keeping() -> Response:
    """How long classes are kept, and when each was last active."""
    return answer(_keeping())


@pages.post("/office/keeping")
@for_programs
def set_keeping() -> Response:
    """Set how long classes are kept."""
    new = body_as(shapes.NewKeeping)
    with carrying_out() as (session, who):
        times.set_time(session, who.id, new.months, new.year_begins)
    return answer(_keeping())


def _class(one: SchoolClass) -> shapes.OfficeClass:
    return shapes.OfficeClass(**class_shape(one).model_dump(), students=len(one.students))


def _class_row(session: Session, class_id: int) -> SchoolClass:
    found = session.get(SchoolClass, class_id)
    if found is None:
        raise Refusal(404, "No such class", f"There is no class no. {class_id}.")
    return found


def _the_member(person_id: int) -> Person:
    found = web.reading().get(Person, person_id)
    if found is None or found.role == STUDENT:
        raise Refusal(404, "No such person", "Nobody on the staff has this number.")
    return found


def _known(session: Session, class_ids: Iterable[int]) -> set[int]:
    wanted = set(class_ids)
    missing = wanted - set(session.scalars(select(SchoolClass.id).where(SchoolClass.id.in_(wanted))))
    if missing:
        raise Refusal(422, "No such class", f"There is no class no. {min(missing)}.")
    return wanted


def _member(one: Person) -> shapes.StaffMember:
    taught = select(Teaching.class_id).where(Teaching.person_id == one.id).order_by(Teaching.class_id)
    name = one.name if READ_NAMES in token().scopes else None
    return shapes.StaffMember(id=one.id, role=one.role, name=name, class_ids=tuple(web.reading().scalars(taught)))


def _done(one: Doing) -> shapes.Done:
    named = READ_NAMES in token().scopes
    return shapes.Done(
        at=moment(one.at) or "",
        by_id=one.by_id,
        by=one.by if named else None,
        what=one.what,
        about=one.kind,
        about_id=one.about_id,
        about_name=one.about if named else None,
        word=one.word,
    )


def _keeping() -> shapes.Keeping:
    school = web.school()
    begins = school.year_begins if school else 8
    told = (
        shapes.KeptYear(
            year=one.begins,
            label=one.label,
            classes=tuple(
                shapes.KeptClass(
                    id=line.id,
                    name=line.name,
                    code=line.code,
                    students=line.pupils,
                    active=moment(line.active) or "",
                    foretold=moment(line.warned_at),
                )
                for line in one.classes
            ),
        )
        for one in years(web.reading(), zone(), begins)
    )
    return shapes.Keeping(months=school.keep_months if school else None, year_begins=begins, years=tuple(told))


def _day(name: str) -> date | None:
    """A day of the query on the school's calendar."""
    given = request.args.get(name)
    try:
        found = date.fromisoformat(given) if given is not None else None
    except ValueError:
        raise Refusal(400, "No such day", f"'{name}' must be a day such as 2027-03-01.") from None
    return min(max(found, FIRST_DAY), LAST_DAY) if found else None


def _begin(day: date) -> datetime:
    return to_utc(datetime.combine(day, clock.min), zone())
