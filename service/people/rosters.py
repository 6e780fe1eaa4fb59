"""Bringing a class list in: students found again, made anew, renamed, or put with the leavers.

Hashing a passphrase takes time on purpose, so that of a whole class is done before the writing begins.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.language import _
from service.people import browsers
from service.people.aliases import free_aliases
from service.people.enrol import CannotEnrol, SignIn
from service.people.lists.plan import Known, Plan
from service.people.passwords import NoWordLeft, hashed, new_key, new_phrase, phrase_words
from service.records.acts import note
from service.records.models import STUDENT, Person, SchoolClass, now


@dataclass(frozen=True)
class Words:
    """A passphrase made and hashed, not yet anybody's."""

    phrase: str
    secret_hash: str

    @property
    def handle(self) -> str:
        """Its first word, which finds the account."""
        return phrase_words(self.phrase)[0]


def here(session: Session, class_id: int) -> list[Known]:
    """Everybody who is or was in a class, by name."""
    people = session.scalars(select(Person).where(Person.class_id == class_id).order_by(Person.name, Person.id))
    return [Known(one.id, one.name, one.roster_number or "", one.left_at is not None) for one in people]


def new_words(session: Session, class_id: int, count: int) -> list[Words]:
    """Passphrases whose first words nobody in the class has.

    Raises
    ------
    CannotEnrol
        The class would be larger than the list of words.
    """
    taken = {handle or "" for handle in session.scalars(select(Person.handle).where(Person.class_id == class_id))}
    made = []
    for __ in range(count):
        try:
            phrase = new_phrase(taken)
        except NoWordLeft as error:
            raise CannotEnrol(_("The class would be too large: {why}.", why=error)) from None
        taken.add(phrase_words(phrase)[0])
        made.append(Words(phrase, hashed(phrase)))
    return made


def bring_in(
    session: Session,
    school_class: SchoolClass,
    wanted: Plan,
    words: Sequence[Words],
    with_leavers: bool,
    sourced_id: str = "",
) -> list[SignIn]:
    """Write a plan; ``words`` are for the new ones.  Gives what each new student signs in with, to print once.

    Parameters
    ----------
    sourced_id
        What the export that the list came from calls the class; nothing leaves what is known of it.
    """
    signs = []
    school_class.sourced_id = sourced_id or school_class.sourced_id
    aliases = free_aliases(session, len(wanted.new))
    for pupil, own, alias in zip(wanted.new, words, aliases, strict=True):
        session.add(
            Person(
                role=STUDENT,
                name=pupil.name,
                class_id=school_class.id,
                roster_number=pupil.number or None,
                handle=own.handle,
                secret_hash=own.secret_hash,
                alias=alias,
                session_key=new_key(),
            )
        )
        signs.append(SignIn(pupil.name, school_class.code, own.phrase))
    for known, pupil in (*wanted.renamed, *wanted.numbered, *wanted.back):
        person = session.get_one(Person, known.id)
        person.name, person.left_at = pupil.name, None
        person.roster_number = pupil.number or person.roster_number
    for known in wanted.leavers if with_leavers else ():
        leave(session.get_one(Person, known.id))
    session.flush()
    return signs


def set_apart(session: Session, by_id: int, person: Person, left: bool) -> None:
    """Put a student with the leavers, or take them back; noted where it changes something."""
    if left and person.left_at is None:
        leave(person)
        note(session, by_id, "with the leavers", "person", person.id)
    elif not left and person.left_at is not None:
        person.left_at = None
        note(session, by_id, "back from the leavers", "person", person.id)


def leave(person: Person) -> None:
    """Put a student with the leavers: kept with all work, signed out everywhere, and unable to sign in."""
    person.left_at, person.session_key = now(), new_key()


def new_cards(session: Session, students: Sequence[Person], words: Sequence[Words]) -> list[SignIn]:
    """New words for these students; the old ones stop working, and every session ends."""
    for person, own in zip(students, words, strict=True):
        person.handle, person.secret_hash, person.session_key = own.handle, own.secret_hash, new_key()
        person.failed_tries, person.locked_until = 0, None
        browsers.forget(session, person.id)
    session.flush()
    return [
        SignIn(person.name, person.school_class.code if person.school_class else "", own.phrase)
        for person, own in zip(students, words, strict=True)
    ]
