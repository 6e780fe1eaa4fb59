"""What programs sign in with, and what they did under keys of their own."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import JSON, ForeignKey, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from service.records.models import Base, Person, SchoolClass, now


class Token(Base):
    """A program's way in to one class, with a few scopes; what it is, is kept as a hash alone.

    It reaches no further than the one who made it: who no longer teaches the class opens nothing with it.
    """

    __tablename__ = "tokens"
    id: Mapped[int] = mapped_column(primary_key=True)
    class_id: Mapped[int] = mapped_column(ForeignKey("classes.id"), index=True)
    by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    name: Mapped[str] = mapped_column(String(80))
    """What it is for."""
    secret_sha256: Mapped[str] = mapped_column(String(64), unique=True)
    scopes: Mapped[list[str]] = mapped_column(JSON)
    made_at: Mapped[datetime] = mapped_column(default=now)
    revoked_at: Mapped[datetime | None]
    used_on: Mapped[datetime | None]
    """The day on which it was last used."""
    by: Mapped[Person] = relationship()
    school_class: Mapped[SchoolClass] = relationship()


class KeyedDoing(Base):
    """What a program did under the key that it chose: the same key again does nothing more.

    One of the four numbers says what it made.
    """

    __tablename__ = "keyed_doings"
    __table_args__ = (UniqueConstraint("token_id", "key"),)
    id: Mapped[int] = mapped_column(primary_key=True)
    token_id: Mapped[int] = mapped_column(ForeignKey("tokens.id"))
    key: Mapped[str] = mapped_column(String(80))
    body_sha256: Mapped[str] = mapped_column(String(64))
    submission_id: Mapped[int | None] = mapped_column(ForeignKey("submissions.id"), index=True)
    assignment_id: Mapped[int | None] = mapped_column(ForeignKey("assignments.id"), index=True)
    trial_id: Mapped[int | None] = mapped_column(ForeignKey("trials.id"), index=True)
    protest_id: Mapped[int | None] = mapped_column(ForeignKey("contest_protests.id"), index=True)
    made_at: Mapped[datetime] = mapped_column(default=now)
