"""Browsers in which somebody has signed in before, told by a cookie that we signed.

Wrong tries in such a browser count by themselves.  So a stranger who guesses elsewhere makes a person wait
at the computers of strangers alone.  The tables keep a hash of what the cookie holds.
"""

from __future__ import annotations

import hashlib
import secrets
from datetime import timedelta

from itsdangerous import BadSignature, URLSafeSerializer
from sqlalchemy import delete, func, select
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response

from service.records.models import Browser, now

COOKIE = "kingpost-browser"
KEPT = timedelta(days=180)
"""How long a browser is known after the last sign-in in it."""

MOST = 20
"""Browsers known for one person."""


def token_in(cookie: str | None, key: str) -> str:
    """What a cookie of ours holds; nothing where there is none, or somebody else made it."""
    try:
        token = URLSafeSerializer(key, salt="browser").loads(cookie or "")
    except BadSignature:
        return ""
    return token if isinstance(token, str) else ""


def mark(response: Response, token: str, key: str, secure: bool) -> None:
    """Give the browser its cookie; it is sent to the sign-in pages alone."""
    value = URLSafeSerializer(key, salt="browser").dumps(token)
    response.set_cookie(COOKIE, str(value), max_age=KEPT, path="/sign-in", httponly=True, samesite="Lax", secure=secure)


def hashed(token: str) -> str:
    """What the tables keep of a token; nothing of nothing."""
    return hashlib.sha256(token.encode()).hexdigest() if token else ""


def new_token() -> str:
    """A token that nobody can guess."""
    return secrets.token_hex(16)


def known(session: Session, token_hash: str, person_id: int) -> Browser | None:
    """The count of wrong tries of a person in a browser where that person has signed in before."""
    found = session.get(Browser, (token_hash, person_id)) if token_hash else None
    return found if found is not None and found.seen_at > now() - KEPT else None


def remember(session: Session, token: str, person_id: int) -> None:
    """Know a browser from now on; what was not used for long, or is too many, is forgotten."""
    found = session.get(Browser, (hashed(token), person_id))
    if found is None:
        found = Browser(token_hash=hashed(token), person_id=person_id, failed_tries=0, locked_until=None)
        session.add(found)
    found.seen_at = now()
    session.flush()
    own = select(Browser.token_hash).where(Browser.person_id == person_id)
    kept = own.where(Browser.seen_at > now() - KEPT).order_by(Browser.seen_at.desc()).limit(MOST)
    session.execute(
        delete(Browser)
        .where(Browser.person_id == person_id, Browser.token_hash.not_in(session.scalars(kept).all()))
        .execution_options(synchronize_session=False)
    )


def forget(session: Session, person_id: int) -> None:
    """Know no browser of a person any more: the secret is new, or somebody else may have one of them."""
    session.execute(delete(Browser).where(Browser.person_id == person_id))


def count(session: Session, person_id: int) -> int:
    """How many browsers are known for a person."""
    wanted = select(func.count()).select_from(Browser).where(Browser.person_id == person_id)
    return session.scalar(wanted.where(Browser.seen_at > now() - KEPT)) or 0
