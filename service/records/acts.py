"""What is kept of acts and of deletions: tables that refer to no other, so that they outlive what they name."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import String
from sqlalchemy.orm import Mapped, Session, mapped_column

from rubric.language import later
from service.records.models import Base, now

WHAT = (
    later("class list brought in"),
    later("with the leavers"),
    later("back from the leavers"),
    later("new sign-in"),
    later("new cards for a class"),
    later("staff added"),
    later("classes taught"),
    later("handed in for a pupil"),
    later("class put away"),
    later("class opened again"),
    later("alias asked for"),
    later("alias chosen"),
    later("alias allowed"),
    later("alias refused"),
    later("signed out everywhere"),
    later("work set"),
    later("dates changed"),
    later("more time given"),
    later("more time taken back"),
    later("attempts given"),
    later("attempts taken back"),
    later("entries locked"),
    later("running order drawn"),
    later("ruling on a bridge"),
    later("contest list published"),
    later("class made"),
    later("class renamed"),
    later("language of a class"),
    later("language of an account"),
    later("when marks are given"),
    later("class report made"),
    later("data given out"),
    later("deletion foretold"),
    later("pupil deleted"),
    later("class deleted"),
    later("token made"),
    later("token revoked"),
    later("time of keeping"),
)
"""All that acts are called."""


class Act(Base):
    """Something that was done in the office: who, when, what, about whom; numbers and a short word, never a name.

    Written once: the database itself refuses to change or delete a row.  ``about`` is 'person', 'class',
    'assignment', 'contest' or 'school'.  The numbers refer to nothing, so that an act outlives what it was about.
    """

    __tablename__ = "acts"
    id: Mapped[int] = mapped_column(primary_key=True)
    at: Mapped[datetime] = mapped_column(default=now, index=True)
    by_id: Mapped[int | None]
    """Who did it; None: the command line, or the clock."""
    what: Mapped[str] = mapped_column(String(40))
    about: Mapped[str] = mapped_column(String(12))
    about_id: Mapped[int]
    word: Mapped[str] = mapped_column(String(80), default="")


class UnderDeletion(Base):
    """A guarded row that is being deleted with the pupil or class it belongs to; empty outside of a deletion."""

    __tablename__ = "under_deletion"
    table_name: Mapped[str] = mapped_column(String(40), primary_key=True)
    row_id: Mapped[int] = mapped_column(primary_key=True)


class Tries(Base):
    """Wrong tries at first words that nobody in a class has, counted in one of a bounded number of places.

    Which word and which class it was cannot be read from it.
    """

    __tablename__ = "tries"
    place: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    failed_tries: Mapped[int] = mapped_column(default=0)
    locked_until: Mapped[datetime | None]
    at: Mapped[datetime] = mapped_column(default=now)


class GoneOrder(Base):
    """A job that was deleted: what the broker may still hold of it, the sweep takes out."""

    __tablename__ = "gone_orders"
    job_id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    at: Mapped[datetime] = mapped_column(default=now)


def note(session: Session, by_id: int | None, what: str, about: str, about_id: int, word: str = "") -> None:
    """Write an act into the list, in the caller's session: it is kept exactly when the act itself is.

    Parameters
    ----------
    by_id
        Who does it; None: the command line, or the clock.
    what
        One of :data:`WHAT`.
    word
        A short word more, such as a class code.  Never a name.
    """
    assert what in WHAT
    session.add(Act(by_id=by_id, what=what, about=about, about_id=about_id, word=word[:80]))
