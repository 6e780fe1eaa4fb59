"""Bringing in a school: its staff, its classes and their sign-ins.

Each function works in the caller's writing session.  A secret is handed back once, to be
printed; the tables keep only its hash.
"""

from __future__ import annotations

import unicodedata
import zoneinfo
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.language import ENGLISH, Language, _
from rubric.problems import quoted
from rubric.spelling import did_you_mean
from service.people import browsers
from service.people.aliases import free_aliases
from service.people.passwords import (
    NoWordLeft,
    hashed,
    new_key,
    new_phrase,
    new_staff_password,
    phrase_words,
)
from service.people.sign_in import plain_code, plain_name
from service.records.acts import note
from service.records.models import COORDINATOR, STUDENT, TEACHER, Person, School, SchoolClass, Teaching

LONGEST_NAME = 100
SHORTEST_PASSWORD = 10


class CannotEnrol(Exception):
    """What was asked cannot be done; the message says why and how to mend it."""


@dataclass(frozen=True)
class SignIn:
    """What one person needs to sign in; shown once."""

    name: str
    class_code: str
    """Nothing for staff, who sign in with their name."""
    secret: str


def set_school(session: Session, name: str, zone: str | None = None) -> School:
    """Name the school of this installation, or rename it.

    Raises
    ------
    CannotEnrol
        No name, or a time zone that is not known.
    """
    school = session.scalar(select(School).limit(1)) or School()
    zone = zone or school.zone or "UTC"
    if zone not in zoneinfo.available_timezones():
        near = did_you_mean(zone, sorted(zoneinfo.available_timezones()))
        raise CannotEnrol(_("{zone} is not a time zone such as 'Europe/Lisbon': {near}", zone=quoted(zone), near=near))
    school.name, school.zone = _name(name, _("school")), zone
    session.add(school)
    session.flush()
    return school


def the_school(session: Session) -> School:
    """The school.

    Raises
    ------
    CannotEnrol
        There is none yet.
    """
    school = session.scalar(select(School).limit(1))
    if school is None:
        raise CannotEnrol(_("There is no school yet. Begin with 'kingpost admin school NAME'."))
    return school


def add_staff(
    session: Session,
    role: str,
    name: str,
    codes: Iterable[str] = (),
    password: str | None = None,
    language: Language = ENGLISH,
) -> SignIn:
    """A teacher of the classes with ``codes``, or a coordinator, who reads in ``language``.

    Raises
    ------
    CannotEnrol
        The name is taken, a class is not known, or the password is too short.
    """
    assert role in (TEACHER, COORDINATOR)
    the_school(session)
    plain = _name(name, _(role))
    if session.scalar(select(Person.id).where(Person.sign_in_name == plain_name(plain))) is not None:
        raise CannotEnrol(
            _(
                "Somebody already signs in as {name}. To give them another class use 'kingpost admin teaches'; "
                "for somebody else write the name differently.",
                name=quoted(plain),
            )
        )
    secret = _staff_password(password)
    person = Person(
        role=role,
        name=plain,
        sign_in_name=plain_name(plain),
        secret_hash=hashed(secret),
        session_key=new_key(),
        language=language,
    )
    session.add(person)
    session.flush()
    for code in codes:
        session.add(Teaching(person_id=person.id, class_id=class_by_code(session, code).id))
    session.flush()
    return SignIn(plain, "", secret)


def add_teaching(session: Session, name: str, codes: Sequence[str]) -> Person:
    """Let a teacher who is here already teach more classes; one taught already stays as it is.

    Raises
    ------
    CannotEnrol
        Nobody on the staff is called so, or a class is not known.
    """
    person = find_person(session, name)
    for code in codes:
        key = (person.id, class_by_code(session, code).id)
        if session.get(Teaching, key) is None:
            session.add(Teaching(person_id=key[0], class_id=key[1]))
            session.flush()
    return person


def add_class(
    session: Session, name: str, code: str, students: Sequence[str], language: Language = ENGLISH
) -> list[SignIn]:
    """A class with its students, each with a passphrase and an alias of their own.

    Raises
    ------
    CannotEnrol
        The code is taken or odd, nobody is in the class, or a name stands twice.
    """
    school_class = empty_class(session, name, code)
    school_class.language = language
    return _enrol(session, school_class, _student_names(students))


def empty_class(session: Session, name: str, code: str, sourced_id: str = "") -> SchoolClass:
    """A class with nobody in it yet.

    Parameters
    ----------
    sourced_id
        What the school's own records call it; nothing where that is not known.

    Raises
    ------
    CannotEnrol
        The code is taken or odd.
    """
    the_school(session)
    plain = plain_code(code)
    if not plain or len("".join(code.split())) > 20 or not all(c.isalnum() or c == "-" for c in plain):
        said = _("{code} is no class code. Use up to 20 letters, digits and dashes, such as 8B.", code=quoted(code))
        raise CannotEnrol(said)
    if session.scalar(select(SchoolClass.id).where(SchoolClass.code == plain)) is not None:
        raise CannotEnrol(_("There already is a class with the code {code}. Choose another code.", code=plain))
    school_class = SchoolClass(name=_class_name(name), code=plain, sourced_id=sourced_id or None)
    session.add(school_class)
    session.flush()
    return school_class


def rename_class(session: Session, by_id: int, school_class: SchoolClass, name: str) -> None:
    """Call a class something else; its code and the id that lists find it by stay.  Noted where it changes something.

    Raises
    ------
    CannotEnrol
        The name is none.
    """
    plain = _class_name(name)
    if plain != school_class.name:
        school_class.name = plain
        note(session, by_id, "class renamed", "class", school_class.id, school_class.code)


def add_student(session: Session, code: str, name: str) -> SignIn:
    """One more student for a class.

    Raises
    ------
    CannotEnrol
        The class is not known, or has a student of that name.
    """
    school_class = class_by_code(session, code)
    there = [student.name for student in school_class.students]
    names = _student_names([*there, name])[len(there) :]
    if not names:
        raise CannotEnrol(_("A student needs a name."))
    return _enrol(session, school_class, names)[0]


def new_secret(session: Session, person: Person, password: str | None = None) -> SignIn:
    """A new passphrase, or for staff a new password; ends every session and every wait.

    Raises
    ------
    CannotEnrol
        The password is too short, or was chosen for a student.
    """
    code = person.school_class.code if person.school_class else ""
    if person.role == STUDENT:
        if password is not None:
            raise CannotEnrol(_("A student's passphrase is always made anew. Leave the password out."))
        secret = _phrase(_handles(session, person.class_id))
        person.handle = phrase_words(secret)[0]
    else:
        secret = _staff_password(password)
    person.secret_hash, person.session_key = hashed(secret), new_key()
    person.failed_tries, person.locked_until = 0, None
    browsers.forget(session, person.id)
    session.flush()
    return SignIn(person.name, code, secret)


def find_person(session: Session, name: str, code: str = "") -> Person:
    """Staff by name, or with ``code`` a student of that class.

    Raises
    ------
    CannotEnrol
        Nobody is called so.
    """
    if code:
        school_class = class_by_code(session, code)
        wanted = " ".join(name.split())
        found = next((student for student in school_class.students if student.name == wanted), None)
        names = [student.name for student in school_class.students]
    else:
        found = session.scalar(select(Person).where(Person.sign_in_name == plain_name(name)))
        names = list(session.scalars(select(Person.name).where(Person.role != STUDENT)))
    if found is None:
        said = (
            _("Nobody called {name} is in class {code}.")
            if code
            else _("Nobody called {name} is on the staff; for a student add '--class CODE'.")
        )
        raise CannotEnrol(f"{said.format(name=quoted(name), code=plain_code(code))} {did_you_mean(name, names)}")
    return found


def class_by_code(session: Session, code: str) -> SchoolClass:
    """The class with this code.

    Raises
    ------
    CannotEnrol
        There is none.
    """
    found = session.scalar(select(SchoolClass).where(SchoolClass.code == plain_code(code)))
    if found is None:
        known = list(session.scalars(select(SchoolClass.code).order_by(SchoolClass.code)))
        hint = did_you_mean(plain_code(code), known) if known else _("There is none yet: make one with 'class NAME'.")
        raise CannotEnrol(_("There is no class with the code {code}: {hint}", code=quoted(code), hint=hint))
    return found


def _enrol(session: Session, school_class: SchoolClass, names: Sequence[str]) -> list[SignIn]:
    handles = _handles(session, school_class.id)
    sign_ins = []
    for name, alias in zip(names, free_aliases(session, len(names)), strict=True):
        phrase = _phrase(handles)
        handle = phrase_words(phrase)[0]
        handles.add(handle)
        session.add(
            Person(
                role=STUDENT,
                name=name,
                class_id=school_class.id,
                handle=handle,
                secret_hash=hashed(phrase),
                alias=alias,
                session_key=new_key(),
            )
        )
        sign_ins.append(SignIn(name, school_class.code, phrase))
    session.flush()
    return sign_ins


def _handles(session: Session, class_id: int | None) -> set[str]:
    return {handle or "" for handle in session.scalars(select(Person.handle).where(Person.class_id == class_id))}


def _phrase(handles: set[str]) -> str:
    try:
        return new_phrase(handles)
    except NoWordLeft as error:
        raise CannotEnrol(_("The class is too large: {why}.", why=error)) from None


def _student_names(lines: Sequence[str]) -> list[str]:
    first: dict[str, int] = {}
    for number, line in enumerate(lines, 1):
        text = line.lstrip("\ufeff").strip()
        if not text:
            continue
        name = _name(text, _("student in line {line}", line=number))
        if name in first:
            raise CannotEnrol(
                _(
                    "{name} stands in line {first} and again in line {line}. "
                    "Add a letter so that you can tell the two apart.",
                    name=quoted(name),
                    first=first[name],
                    line=number,
                )
            )
        first[name] = number
    if not first:
        raise CannotEnrol(_("There is nobody in the class list. Write one name a line."))
    return list(first)


def _class_name(text: str) -> str:
    return _name(text, _("class"))[:80]


def _name(text: str, what: str) -> str:
    name = " ".join(text.split())
    if not name:
        raise CannotEnrol(_("The {what} needs a name.", what=what))
    if len(name) > LONGEST_NAME:
        said = _("The name of the {what} has {count} letters. Shorten it to {most}.")
        raise CannotEnrol(said.format(what=what, count=len(name), most=LONGEST_NAME))
    if any(unicodedata.category(c) in ("Cc", "Cs", "Co", "Cn") for c in name):
        said = _("The name {name} holds a character that is no letter. Type it again by hand.", name=quoted(name))
        raise CannotEnrol(said)
    return name


def _staff_password(password: str | None) -> str:
    if password is None:
        return new_staff_password()
    if not SHORTEST_PASSWORD <= len(password) <= 200:
        raise CannotEnrol(_("A password has {least} to 200 characters. Choose another one.", least=SHORTEST_PASSWORD))
    return password
