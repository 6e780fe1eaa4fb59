"""Deleting a pupil or a class: all rows below it, in the caller's session, and an act that says so.

Changes of marks, versions of a brief and readings of a contest are guarded by the database.  Their rows are named in
``under_deletion`` while they go, and that table is empty again before the session ends.
"""

from __future__ import annotations

from sqlalchemy import delete, insert, update
from sqlalchemy.orm import Session

from service.privacy.withdrawing import withdraw_from_lists
from service.records.acts import GoneOrder, UnderDeletion, note
from service.records.below import CLASSES, JOBS, PEOPLE, Below, below, with_keys
from service.records.models import STUDENT, Base, Person, School, SchoolClass, now

GUARDED = ("changes", "versions", "contest_readings")


def confirmed(typed: str, wanted: str) -> bool:
    """Whether what was typed is the name or the code that says: yes, this one."""
    return " ".join(typed.split()).casefold() == " ".join(wanted.split()).casefold()


def erase_pupil(session: Session, student: Person, by_id: int | None) -> None:
    """Delete a pupil with all attempts, marks and sheets."""
    assert student.role == STUDENT
    note(session, by_id, "pupil deleted", "person", student.id)
    _erase(session, below(session, PEOPLE, [student.id]))


def erase_class(session: Session, school_class: SchoolClass, by_id: int | None, word: str = "") -> None:
    """Delete a class with its pupils, assignments and all that was handed in.

    Parameters
    ----------
    word
        Why, in a word or two.
    """
    rows = below(session, CLASSES, [school_class.id])
    for key in sorted(rows.get(PEOPLE, ())):
        note(session, by_id, "pupil deleted", "person", key[0], "with the class")
    note(session, by_id, "class deleted", "class", school_class.id, word)
    _erase(session, rows)


def _erase(session: Session, rows: Below) -> None:
    session.flush()
    withdraw_from_lists(session, [key[0] for key in rows.get(Base.metadata.tables["contest_entries"], ())])
    orders = [{"job_id": key[0], "at": now()} for key in sorted(rows.get(JOBS, ()))]
    if orders:
        session.execute(insert(GoneOrder), orders)
    guarded = [
        {"table_name": table.name, "row_id": key[0]}
        for table, keys in rows.items()
        if table.name in GUARDED
        for key in keys
    ]
    if guarded:
        session.execute(insert(UnderDeletion), guarded)
    for table in reversed(Base.metadata.sorted_tables):
        for condition in with_keys(table, rows.get(table, ())):
            session.execute(delete(table).where(condition))
    session.execute(delete(UnderDeletion))
    session.execute(update(School).values(tidy_at=now()))
    session.expire_all()
