"""Wrong tries at accounts that are not there, counted like those at accounts that are.

Without this a first word that nobody in a class has would never wait, and so all first words of a class could be
found out.  Rows are bounded: one for each word of the list in each class, a few for classes and names of staff that
do not exist.  Each waits by itself, so that nobody can shut a class out.
"""

from __future__ import annotations

import hashlib
from datetime import datetime, timedelta

from sqlalchemy import delete, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from service.records.acts import Tries
from service.records.models import SchoolClass
from service.words import PASSPHRASE_WORDS

KEPT = timedelta(days=14)
"""So long that the count of a real account has faded too: whoever comes back sooner finds the same wait at both."""

NO_CLASSES, NO_NAMES = 64, 65_536
"""Places for class codes, and for names of staff, that do not exist."""

_WORD = {word: place for place, word in enumerate(PASSPHRASE_WORDS)}


def place_of_word(session: Session, class_code: str, word: str) -> int | None:
    """Where tries at a first word of a class are counted; None for a word that no passphrase has."""
    if word not in _WORD:
        return None
    known = session.scalar(select(SchoolClass.id).where(SchoolClass.code == class_code))
    if known is not None:
        return known * len(_WORD) + _WORD[word]
    return -1 - (_spread(class_code, NO_CLASSES) * len(_WORD) + _WORD[word])


def place_of_name(name: str) -> int:
    """Where tries at a name that none of the staff has are counted."""
    return -1 - NO_CLASSES * len(_WORD) - _spread(name, NO_NAMES)


def tries_at(session: Session, place: int, moment: datetime) -> Tries:
    """The count of a place, locked until the end of the session."""
    found = session.get(Tries, place, with_for_update=True)
    if found is None:
        try:
            with session.begin_nested():
                session.add(Tries(place=place, failed_tries=0, locked_until=None))
        except IntegrityError:  # somebody tried it in the same instant
            pass
        found = session.get_one(Tries, place, with_for_update=True)
    found.at = moment
    return found


def forget_old(session: Session, moment: datetime) -> None:
    """What nobody tried for long."""
    session.execute(delete(Tries).where(Tries.at <= moment - KEPT).execution_options(synchronize_session=False))


def _spread(text: str, places: int) -> int:
    return int.from_bytes(hashlib.sha256(text.encode("utf-8", "replace")).digest()[:6]) % places
