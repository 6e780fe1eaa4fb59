"""The tables of a contest.  What was read off a scale or a display is a row that is never changed or deleted.

Results, ranks and boards are computed from these rows by :mod:`rubric.contest`; no table holds a result but the lists
that were published.  Rows about one bridge hang on its entry and go with the pupil; a station, a list that was
published and a record of the school refer to no pupil.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import JSON, ForeignKey, Index, LargeBinary, String, Text, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from rubric.language import later
from service.records.models import NEVER_AGAIN, Base, Contest, Person, Submission, now

WEIGH_IN, LOAD_TEST = later("weigh-in"), later("load test")
STATIONS = (WEIGH_IN, LOAD_TEST)

MASS, LOAD, UNDO = later("mass"), later("load"), "undo"
"""Kinds of readings; an undo takes another one back."""

DISQUALIFIED, REINSTATED = "disqualified", "reinstated"


class RulesVersion(Base):
    """The rules of a contest as they stood from some moment on, followed by others and never changed."""

    __tablename__ = "contest_rules"
    __table_args__ = (UniqueConstraint("contest_id", "number"),)
    id: Mapped[int] = mapped_column(primary_key=True)
    contest_id: Mapped[int] = mapped_column(ForeignKey("contests.id"))
    number: Mapped[int]
    rules: Mapped[dict[str, Any]] = mapped_column(JSON)
    text: Mapped[str] = mapped_column(Text)
    why: Mapped[str] = mapped_column(String(600), default="")
    by_id: Mapped[int | None] = mapped_column(ForeignKey("people.id"))
    """Who wrote them; None: from the command line."""
    made_at: Mapped[datetime] = mapped_column(default=now)


class Entry(Base):
    """A bridge in a contest: the attempt it was built from, its number, and what was predicted for it."""

    __tablename__ = "contest_entries"
    __table_args__ = (
        UniqueConstraint("contest_id", "number"),
        UniqueConstraint("contest_id", "submission_id"),
        NEVER_AGAIN,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    contest_id: Mapped[int] = mapped_column(ForeignKey("contests.id"))
    student_id: Mapped[int] = mapped_column(ForeignKey("people.id"), index=True)
    submission_id: Mapped[int] = mapped_column(ForeignKey("submissions.id"), index=True)
    number: Mapped[int]
    division: Mapped[str] = mapped_column(String(40))
    age: Mapped[int | None]
    """On the day; kept only where a division goes by age."""
    predicted: Mapped[dict[str, Any]] = mapped_column(JSON, default=dict)
    """Measures of the attempt, the member, the mode and the way that fail first, as they stood when it was named."""
    running: Mapped[int | None]
    """Its place in the running order."""
    named_at: Mapped[datetime] = mapped_column(default=now)
    by_id: Mapped[int | None] = mapped_column(ForeignKey("people.id"))
    frozen_at: Mapped[datetime | None]
    withdrawn_at: Mapped[datetime | None]
    student: Mapped[Person] = relationship(foreign_keys=[student_id])
    submission: Mapped[Submission] = relationship()
    contest: Mapped[Contest] = relationship()


class EntryChange(Base):
    """One late change of an entry, with its reason."""

    __tablename__ = "contest_entry_changes"
    id: Mapped[int] = mapped_column(primary_key=True)
    entry_id: Mapped[int] = mapped_column(ForeignKey("contest_entries.id"), index=True)
    at: Mapped[datetime] = mapped_column(default=now)
    by_id: Mapped[int | None] = mapped_column(ForeignKey("people.id"))
    what: Mapped[str] = mapped_column(String(40))
    before: Mapped[str] = mapped_column(String(200))
    after: Mapped[str] = mapped_column(String(200))
    why: Mapped[str] = mapped_column(String(600))


class Station(Base):
    """A table with a scale, or a rig, that was opened for a contest; closed, it takes no more readings."""

    __tablename__ = "contest_stations"
    id: Mapped[int] = mapped_column(primary_key=True)
    contest_id: Mapped[int] = mapped_column(ForeignKey("contests.id"), index=True)
    kind: Mapped[str] = mapped_column(String(12))
    name: Mapped[str] = mapped_column(String(40))
    opened_at: Mapped[datetime] = mapped_column(default=now)
    by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    confirmed: Mapped[list[str]] = mapped_column(JSON, default=list)
    """The safety list as it was confirmed, sentence by sentence, in English whoever read it."""
    testing: Mapped[int | None]
    """The number of the bridge that lies there now."""
    closed_at: Mapped[datetime | None]
    contest: Mapped[Contest] = relationship()
    by: Mapped[Person] = relationship()


class RawReading(Base):
    """What was read and typed, as it was; the database itself refuses to change or delete a row.

    ``values`` holds the number and its unit as typed and what was noted beside it.  ``key`` is made by the
    browser, one for each reading, so that one which is sent twice is kept once.
    """

    __tablename__ = "contest_readings"
    __table_args__ = (Index("ix_contest_readings_entry", "entry_id", "kind"), NEVER_AGAIN)
    id: Mapped[int] = mapped_column(primary_key=True)
    entry_id: Mapped[int] = mapped_column(ForeignKey("contest_entries.id"))
    station_id: Mapped[int] = mapped_column(ForeignKey("contest_stations.id"), index=True)
    rules_id: Mapped[int] = mapped_column(ForeignKey("contest_rules.id"))
    """The rules, and so the rig, under which it was taken: what its number means."""
    kind: Mapped[str] = mapped_column(String(8))
    key: Mapped[str] = mapped_column(String(64), unique=True)
    values: Mapped[dict[str, Any]] = mapped_column(JSON)
    flagged: Mapped[str] = mapped_column(Text, default="")
    """What was asked about it before it was kept all the same."""
    undoes_id: Mapped[int | None] = mapped_column(unique=True)
    """The reading of the same entry that this row takes back."""
    why: Mapped[str] = mapped_column(String(600), default="")
    by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    taken_at: Mapped[datetime]
    """By the clock of the browser; ``at`` is when it arrived here."""
    at: Mapped[datetime] = mapped_column(default=now)
    entry: Mapped[Entry] = relationship()
    station: Mapped[Station] = relationship()
    by: Mapped[Person] = relationship()


class Confirmation(Base):
    """A second pair of eyes: somebody else than who typed them has looked at these readings."""

    __tablename__ = "contest_confirmations"
    id: Mapped[int] = mapped_column(primary_key=True)
    entry_id: Mapped[int] = mapped_column(ForeignKey("contest_entries.id"), index=True)
    readings: Mapped[list[int]] = mapped_column(JSON)
    by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    at: Mapped[datetime] = mapped_column(default=now)
    by: Mapped[Person] = relationship()


class Ruling(Base):
    """A disqualification, or that it was lifted; the last one holds."""

    __tablename__ = "contest_rulings"
    id: Mapped[int] = mapped_column(primary_key=True)
    entry_id: Mapped[int] = mapped_column(ForeignKey("contest_entries.id"), index=True)
    what: Mapped[str] = mapped_column(String(12))
    why: Mapped[str] = mapped_column(String(600))
    by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    at: Mapped[datetime] = mapped_column(default=now)


class Protest(Base):
    """A protest about a bridge, and the answer."""

    __tablename__ = "contest_protests"
    id: Mapped[int] = mapped_column(primary_key=True)
    entry_id: Mapped[int] = mapped_column(ForeignKey("contest_entries.id"), index=True)
    text: Mapped[str] = mapped_column(String(1000))
    by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    at: Mapped[datetime] = mapped_column(default=now)
    answer: Mapped[str] = mapped_column(String(1000), default="")
    answered_by_id: Mapped[int | None] = mapped_column(ForeignKey("people.id"))
    answered_at: Mapped[datetime | None]
    entry: Mapped[Entry] = relationship()


class Publication(Base):
    """The official list as it was made public; a correction is one more, with its notice."""

    __tablename__ = "contest_publications"
    __table_args__ = (UniqueConstraint("contest_id", "number"),)
    id: Mapped[int] = mapped_column(primary_key=True)
    contest_id: Mapped[int] = mapped_column(ForeignKey("contests.id"))
    number: Mapped[int]
    rules_id: Mapped[int] = mapped_column(ForeignKey("contest_rules.id"))
    lines: Mapped[list[dict[str, Any]]] = mapped_column(JSON)
    notice: Mapped[str] = mapped_column(String(1000), default="")
    """What was corrected and why; nothing for the first list."""
    by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    at: Mapped[datetime] = mapped_column(default=now)


class ContestPrint(Base):
    """Certificates or a booklet of the list that was published last; without a PDF while they are set."""

    __tablename__ = "contest_prints"
    __table_args__ = (UniqueConstraint("contest_id", "what"), NEVER_AGAIN)
    id: Mapped[int] = mapped_column(primary_key=True)
    contest_id: Mapped[int] = mapped_column(ForeignKey("contests.id"))
    what: Mapped[str] = mapped_column(String(12))
    list_number: Mapped[int]
    """Of the published list that it shows."""
    paper: Mapped[str] = mapped_column(String(8), default="A4", server_default="A4")
    pdf: Mapped[bytes | None] = mapped_column(LargeBinary, deferred=True)
    printed_at: Mapped[datetime | None]


class SchoolRecord(Base):
    """A winning result of some year: of a list that was published, or noted from earlier years.  Aliases alone."""

    __tablename__ = "school_records"
    id: Mapped[int] = mapped_column(primary_key=True)
    contest_id: Mapped[int | None] = mapped_column(ForeignKey("contests.id"), index=True)
    year: Mapped[int]
    contest_title: Mapped[str] = mapped_column(String(200))
    division: Mapped[str] = mapped_column(String(40))
    alias: Mapped[str] = mapped_column(String(40))
    efficiency: Mapped[float]
    load_N: Mapped[float | None]
    mass_g: Mapped[float | None]
