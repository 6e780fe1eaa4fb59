"""What all tables stand on."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy.orm import DeclarativeBase


def now() -> datetime:
    """The present moment, UTC, without zone, as the tables keep it."""
    return datetime.now(UTC).replace(tzinfo=None)


class Base(DeclarativeBase):
    """All tables."""


NEVER_AGAIN = {"sqlite_autoincrement": True}
"""For tables whose numbers stand in records for ever: one that was deleted is not given again."""
