"""Tokens: made for one class with a few scopes, told once, kept as a hash, bounded in their rate."""

from __future__ import annotations

import hashlib
import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Lock

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.language import later
from service.records import queries
from service.records.models import now
from service.records.token_models import Token

READ_CLASS = later("read class")
READ_NAMES = later("read names")
HAND_IN = later("hand in")
READ_MARKS = later("read marks")
SET_WORK = later("set work")
GIVE_MARKS = later("give marks")
CLASS_LISTS = later("class lists")
RUN_CONTESTS = later("run contests")
KEEP_CLASS = later("keep class")
DATA = later("data and deletion")
OFFICE = later("run office")
SECOND_LOOK = later("second look")

SCOPES = {
    READ_CLASS: later("students by number and alias, assignments, boards"),
    READ_NAMES: later("names of students, and their numbers on the school's roll"),
    HAND_IN: later("hand in for students"),
    READ_MARKS: later("attempts, marks, results and sheets"),
    SET_WORK: later("set assignments, change dates, give more time or attempts, try versions out and mark again"),
    GIVE_MARKS: later("judge, correct, comment, hold marks back and release them"),
    CLASS_LISTS: later("bring a class list in, and read the sign-ins of whoever is new"),
    RUN_CONTESTS: later("enter bridges, keep readings; a coordinator's also rules, lists and rulings"),
    SECOND_LOOK: later("have work marked a second time or compared with other work; mark what its maker was asked to"),
    KEEP_CLASS: later("new sign-in words, leavers, aliases, language, notices and tokens; put the class away"),
    DATA: later("give out all that is held about a pupil, and delete; a coordinator's also classes and years"),
    OFFICE: later("of a coordinator's token alone: classes and staff, the record of what was done, time of keeping"),
}
"""What a token may do, and what that means."""

PREFIX = "kingpost_"
"""So that a token that lies about somewhere is known for what it is."""


def make(session: Session, class_id: int, by_id: int, name: str, scopes: list[str]) -> tuple[Token, str]:
    """A new token, and its secret, which is told this once."""
    secret = PREFIX + secrets.token_urlsafe(32)
    plain = " ".join(name.split())[:80] or "a program"
    kept = [scope for scope in SCOPES if scope in scopes]
    token = Token(class_id=class_id, by_id=by_id, name=plain, secret_sha256=_hashed(secret), scopes=kept)
    session.add(token)
    session.flush()
    return token, secret


def find(session: Session, secret: str) -> Token | None:
    """The token, unless it was revoked or its maker no longer has to do with the class.

    A secret of 256 random bits needs no slow hash: nobody guesses it.
    """
    token = session.scalar(select(Token).where(Token.secret_sha256 == _hashed(secret), Token.revoked_at.is_(None)))
    if token is None or queries.school_class(session, token.by, token.class_id) is None:
        return None
    return token


def revoke(session: Session, token: Token) -> None:
    """From now on it opens nothing."""
    session.get_one(Token, token.id).revoked_at = now()


def _hashed(secret: str) -> str:
    return hashlib.sha256(secret.encode("utf-8", "replace")).hexdigest()


@dataclass
class Rate:
    """So many requests at once for each token, and so many a second from then on; kept in this process."""

    at_once: int = 60
    each_second: float = 5.0
    clock: Callable[[], float] = time.monotonic
    _left: dict[int, tuple[float, float]] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)

    def wait_s(self, token_id: int) -> int:
        """0 where a request may pass, which is then counted, else the seconds to wait."""
        moment = self.clock()
        with self._lock:
            left, since = self._left.get(token_id, (float(self.at_once), moment))
            left = min(float(self.at_once), left + (moment - since) * self.each_second)
            self._left[token_id] = (left - 1 if left >= 1 else left, moment)
        return 0 if left >= 1 else max(1, round((1 - left) / self.each_second))
