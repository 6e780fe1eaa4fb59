"""The tables of the school, its people and its classes."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from sqlalchemy import ForeignKey, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from rubric.language import ENGLISH
from service.records.base import NEVER_AGAIN, Base, now

if TYPE_CHECKING:
    from service.records.models import Assignment


class School(Base):
    """The one school of this installation."""

    __tablename__ = "schools"
    id: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str] = mapped_column(String(200))
    zone: Mapped[str] = mapped_column(String(64), default="UTC")
    keep_months: Mapped[int | None]
    """So long after a class was last active it is deleted; None: not until somebody does it."""
    year_begins: Mapped[int] = mapped_column(default=8)
    """The month in which a school year begins."""
    tidy_at: Mapped[datetime | None]
    """Since when something is deleted whose traces the files of the database may still hold."""


class Person(Base):
    """Somebody who signs in: staff by name and password, a student by class code and passphrase.

    ``handle`` is the first word of a student's passphrase, different within a class: it finds the
    account, so that wrong tries slow down this account and nobody else's.
    """

    __tablename__ = "people"
    __table_args__ = (UniqueConstraint("class_id", "handle"), NEVER_AGAIN)
    id: Mapped[int] = mapped_column(primary_key=True)
    role: Mapped[str] = mapped_column(String(12))
    name: Mapped[str] = mapped_column(String(200))
    sign_in_name: Mapped[str | None] = mapped_column(String(80), unique=True)
    class_id: Mapped[int | None] = mapped_column(ForeignKey("classes.id"), index=True)
    roster_number: Mapped[str | None] = mapped_column(String(100))
    """The school's own number of a student: a class list brought in again finds him by it."""
    left_at: Mapped[datetime | None]
    """Since when a student is with the leavers: kept with all work, and unable to sign in."""
    handle: Mapped[str | None] = mapped_column(String(40))
    secret_hash: Mapped[str] = mapped_column(String(200))
    alias: Mapped[str | None] = mapped_column(String(40), unique=True)
    alias_asked: Mapped[str | None] = mapped_column(String(40))
    """An alias in the student's own words that a teacher has not looked at yet; nobody else sees it."""
    alias_refused: Mapped[str | None] = mapped_column(String(40))
    """An alias that a teacher did not allow, until the student has chosen again; only the student and staff see it."""
    alias_why: Mapped[str] = mapped_column(String(200), default="", server_default="")
    """The teacher's reason, for the student to read."""
    failed_tries: Mapped[int] = mapped_column(default=0)
    locked_until: Mapped[datetime | None]
    """Until when the next try waits; from then on the count of wrong ones fades."""
    session_key: Mapped[str] = mapped_column(String(32), default="")
    """Part of every session; changing it signs the person out everywhere."""
    language: Mapped[str] = mapped_column(String(8), default=ENGLISH, server_default=ENGLISH)
    """Of the pages that one of the staff reads; a student reads in the language of the class."""
    school_class: Mapped[SchoolClass | None] = relationship(viewonly=True)


class Browser(Base):
    """A browser in which a person has signed in before: wrong tries in it are counted by themselves.

    So nobody who guesses elsewhere can keep a person out of the browser that is theirs.
    """

    __tablename__ = "browsers"
    token_hash: Mapped[str] = mapped_column(String(64), primary_key=True)
    person_id: Mapped[int] = mapped_column(ForeignKey("people.id"), primary_key=True, index=True)
    failed_tries: Mapped[int] = mapped_column(default=0)
    locked_until: Mapped[datetime | None]
    seen_at: Mapped[datetime] = mapped_column(default=now)


class SchoolClass(Base):
    """A class and the code its students sign in with."""

    __tablename__ = "classes"
    __table_args__ = NEVER_AGAIN
    id: Mapped[int] = mapped_column(primary_key=True)
    code: Mapped[str] = mapped_column(String(20), unique=True)
    name: Mapped[str] = mapped_column(String(80))
    language: Mapped[str] = mapped_column(String(8), default=ENGLISH)
    """Of the pages its students read, and of their sheets."""
    sourced_id: Mapped[str | None] = mapped_column(String(255))
    """What the school's own records call the class: a OneRoster export finds it by that, and results go back to it."""
    made_at: Mapped[datetime] = mapped_column(default=now)
    warned_at: Mapped[datetime | None]
    """When it was said that the class will be deleted, because it was not active for long."""
    archived_at: Mapped[datetime | None]
    """Since when the class is put away: kept with all work, and off the teachers' desk."""
    students: Mapped[list[Person]] = relationship(
        primaryjoin="and_(Person.class_id == SchoolClass.id, Person.left_at.is_(None))",
        order_by="Person.name",
        viewonly=True,
    )
    leavers: Mapped[list[Person]] = relationship(
        primaryjoin="and_(Person.class_id == SchoolClass.id, Person.left_at.is_not(None))",
        order_by="Person.name",
        viewonly=True,
    )
    assignments: Mapped[list[Assignment]] = relationship(back_populates="school_class", order_by="Assignment.id")


class Teaching(Base):
    """Which teacher teaches which class."""

    __tablename__ = "teachings"
    person_id: Mapped[int] = mapped_column(ForeignKey("people.id"), primary_key=True)
    class_id: Mapped[int] = mapped_column(ForeignKey("classes.id"), primary_key=True)
