"""Signing in: one try at an account, and how long the next one has to wait.

The wait grows per account and never per address, because a whole class sits behind one router.
A try counts as wrong, and is committed as wrong, before the secret is looked at: many tries in
the same instant therefore cannot slip past the count.

A right try leaves the count as it was before.  So nobody who guesses gets fresh tries when the person signs in, or
can tell by the waits that somebody did; what counts fades with time alone.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from rubric.language import later
from service.people import browsers, strangers
from service.people.passwords import fits, new_key, phrase_words
from service.records.acts import Tries
from service.records.models import STUDENT, Browser, Notice, Person, SchoolClass, now

FREE_TRIES = 3
LONGEST_WAIT_S = 3600
"""With five minutes, a day of guessing at all of a class of thirty found some account in 3.4 of 100 cases; with an
hour in 0.4."""

HALVED_AFTER = timedelta(hours=20)
"""Without a wrong try for so long the count is half of what it was: less than from one day's lesson to the next, and so
long that guessing on is worth more than waiting."""

ALARM_AFTER = 10
"""Wrong tries after which the class's teacher is told, or of staff the coordinator."""

ALARM_AGAIN = 50
"""So many wrong tries later the teacher is told again: somebody goes on guessing."""

ALARMS_APART = timedelta(days=1)

WRONG_WORDS = later(
    "{tries} wrong passphrases were tried for {name}. If it was not a slip, give them a new passphrase."
)
WRONG_PASSWORDS = later(
    "{tries} wrong passwords were tried for {name}. If it was not a slip, give them a new password."
)
"""What is told of many wrong tries."""

Writing = Callable[[], AbstractContextManager[Session]]
"""Opens a writing transaction, committed at its end."""

Place = Callable[[Session], int | None]
"""Where tries are counted if there is no such account."""


@dataclass(frozen=True)
class Welcome:
    """The secret was right."""

    person_id: int
    key: str


@dataclass(frozen=True)
class Wrong:
    """The secret was wrong, or the account still waits."""

    wait_s: int
    """Seconds until the next try; 0 when it may follow at once."""
    looked: bool = True
    """False where the try came too early and was not looked at."""


@dataclass(frozen=True)
class _Account:
    person_id: int | None
    """None: there is no such account."""
    secret_hash: str | None
    counted: _Counted


@dataclass(frozen=True)
class _Counted:
    """What one try made of a count: the tries with it, the wait after it, and what stood before."""

    tries: int
    wait_s: int
    before: tuple[int, datetime | None]


def wait_after(wrong_tries: int) -> int:
    """Seconds to wait after so many wrong tries: none for three, then 4, 8, 16 ... 3600."""
    return 0 if wrong_tries < FREE_TRIES else min(2 ** min(wrong_tries - FREE_TRIES + 2, 12), LONGEST_WAIT_S)


def faded(wrong_tries: int, pause_ended: datetime | None, moment: datetime) -> int:
    """What is left of a count at ``moment``, some time after the pause of the last wrong try ended."""
    if pause_ended is None:
        return wrong_tries
    return wrong_tries >> min(max(0, (moment - pause_ended) // HALVED_AFTER), 64)


def student_sign_in(writing: Writing, class_code: str, phrase: str, browser: str = "") -> Welcome | Wrong:
    """One try with a class code and a passphrase, in a browser that may be known by the hash of its token."""
    words = phrase_words(phrase)
    account = (
        select(Person)
        .join(SchoolClass, Person.class_id == SchoolClass.id)
        .where(Person.role == STUDENT, Person.left_at.is_(None), SchoolClass.code == plain_code(class_code))
        .where(Person.handle == (words[0] if words else ""))
    )
    word = words[0] if words else ""
    place = partial(strangers.place_of_word, class_code=plain_code(class_code), word=word)
    return _sign_in(writing, account, place, "-".join(words), browser)


def staff_sign_in(writing: Writing, name: str, password: str, browser: str = "") -> Welcome | Wrong:
    """One try with a staff name and a password, in a browser that may be known by the hash of its token."""
    account = select(Person).where(Person.role != STUDENT, Person.sign_in_name == plain_name(name))
    place = strangers.place_of_name(plain_name(name))
    return _sign_in(writing, account, lambda _: place, password, browser)


def plain_code(text: str) -> str:
    """A class code as kept: capitals, no spaces."""
    return "".join(text.split()).upper()[:20]


def plain_name(text: str) -> str:
    """A staff sign-in name as kept: any case, single spaces."""
    return " ".join(text.split()).casefold()[:80]


def _sign_in(writing: Writing, find: Select[Person], place: Place, secret: str, browser: str) -> Welcome | Wrong:
    with writing() as session:
        account = _count_try(session, find, place, browser)
    if isinstance(account, Wrong):
        return account
    if not fits(account.secret_hash, secret) or account.person_id is None:
        if account.person_id is not None and (account.counted.tries - ALARM_AFTER) % ALARM_AGAIN == 0:
            with writing() as session:
                _alarm(session, session.get_one(Person, account.person_id), account.counted.tries)
        return Wrong(account.counted.wait_s)
    with writing() as session:
        person = session.get_one(Person, account.person_id, with_for_update=True)
        _uncount(browsers.known(session, browser, person.id) or person, account.counted)
        person.session_key = person.session_key or new_key()
        return Welcome(person.id, person.session_key)


def _count_try(session: Session, find: Select[Person], place: Place, browser: str) -> _Account | Wrong:
    person = session.scalar(find.with_for_update(of=Person))
    if person is None:
        return _count_stranger(session, place)
    # In a browser where this person has signed in before, tries count by themselves.
    counted = _count(browsers.known(session, browser, person.id) or person)
    return counted if isinstance(counted, Wrong) else _Account(person.id, person.secret_hash, counted)


def _count_stranger(session: Session, place: Place) -> _Account | Wrong:
    """An account that is not there answers and waits like one that is."""
    number = place(session)
    counted = _count(strangers.tries_at(session, number, now())) if number is not None else _Counted(0, 0, (0, None))
    return counted if isinstance(counted, Wrong) else _Account(None, None, counted)


def _count(place: Person | Browser | Tries) -> _Counted | Wrong:
    """One more try, or that it came too early."""
    moment, before = now(), (place.failed_tries, place.locked_until)
    if place.locked_until is not None and place.locked_until > moment:
        return Wrong(int((place.locked_until - moment).total_seconds()) + 1, looked=False)
    place.failed_tries = faded(*before, moment) + 1
    wait_s = wait_after(place.failed_tries)
    place.locked_until = moment + timedelta(seconds=wait_s)
    return _Counted(place.failed_tries, wait_s, before)


def _uncount(place: Person | Browser, counted: _Counted) -> None:
    """The try was right: what stood before it stands again, unless somebody else has tried meanwhile."""
    if place.failed_tries == counted.tries:
        place.failed_tries, place.locked_until = counted.before
    else:
        place.failed_tries = max(0, place.failed_tries - 1)


def _alarm(session: Session, person: Person, tries: int) -> None:
    """Tell the teachers of a student, or the coordinators of one of the staff; once a day at the most."""
    lately = select(Notice.id).where(Notice.person_id == person.id, Notice.created_at > now() - ALARMS_APART)
    if session.scalar(lately.limit(1)) is not None:
        return
    text = WRONG_WORDS if person.role == STUDENT else WRONG_PASSWORDS
    told = Notice(class_id=person.class_id, person_id=person.id, text=text, created_at=now())
    told.values = {"tries": tries, "name": person.name[:100]}
    session.add(told)
