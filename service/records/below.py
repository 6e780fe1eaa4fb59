"""All rows that hang on some row, found by the references between the tables, so that no table is forgotten.

A new table that refers to people, classes, assignments or submissions is found by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from typing import Any

from sqlalchemy import ColumnElement, Table, and_, or_, select
from sqlalchemy.orm import Session

from rubric.messages.names import AWARD, COMPARE, DRAW, MARK, PLAN, PRINT, REPORT, TRY
from service.records.models import Base

Key = tuple[Any, ...]
Below = dict[Table, set[Key]]
"""Keys of rows by their table."""

SUBJECT_OF_JOB = {
    MARK: "submissions",
    PRINT: "submissions",
    PLAN: "submissions",
    DRAW: "assignments",
    COMPARE: "assignments",
    TRY: "trial_works",
    AWARD: "contest_prints",
    REPORT: "class_reports",
}
"""The table of a job's subject: the one reference that the database does not know."""

AT_ONCE = 400
"""So many keys stand in one question."""

PEOPLE, CLASSES, JOBS = (Base.metadata.tables[name] for name in ("people", "classes", "jobs"))


def below(session: Session, top: Table, numbers: Iterable[int]) -> Below:
    """The rows with these numbers and all that refer to them, directly or by way of others, jobs too."""
    found: Below = {top: {(number,) for number in numbers}}
    for table in Base.metadata.sorted_tables:
        for reference in table.foreign_keys:
            above = found.get(reference.column.table)
            if above:
                keys = [key[0] for key in above]
                found.setdefault(table, set()).update(_keys(session, table, reference.parent.in_, keys))
    _certificates(session, found)
    _class_reports(session, found)
    for kind, subject in SUBJECT_OF_JOB.items():
        keys = [key[0] for key in found.get(Base.metadata.tables[subject], ())]
        found.setdefault(JOBS, set()).update(_keys(session, JOBS, partial(_about, kind), keys))
    return {table: keys for table, keys in found.items() if keys}


def _certificates(session: Session, found: Below) -> None:
    """Certificates of a contest name all its pupils in one file: it goes with each of them, and can be set again."""
    entries, prints = (Base.metadata.tables[name] for name in ("contest_entries", "contest_prints"))
    for some in _portions([key[0] for key in found.get(entries, ())]):
        contests = select(entries.c.contest_id).where(entries.c.id.in_(some))
        keys = session.execute(select(prints.c.id).where(prints.c.contest_id.in_(contests)))
        found.setdefault(prints, set()).update(tuple(row) for row in keys)


def _class_reports(session: Session, found: Below) -> None:
    """A report names all pupils of a class, so it goes with each of them too, and can be set again."""
    assignments, reports = (Base.metadata.tables[name] for name in ("assignments", "class_reports"))
    for some in _portions([key[0] for key in found.get(PEOPLE, ())]):
        classes = select(PEOPLE.c.class_id).where(PEOPLE.c.id.in_(some))
        about = select(assignments.c.id).where(assignments.c.class_id.in_(classes))
        keys = session.execute(select(reports.c.assignment_id).where(reports.c.assignment_id.in_(about)))
        found.setdefault(reports, set()).update(tuple(row) for row in keys)


def with_keys(table: Table, keys: Iterable[Key]) -> Iterator[ColumnElement[bool]]:
    """Conditions that together pick the rows with these keys, some at a time."""
    columns = list(table.primary_key)
    for some in _portions(sorted(keys)):
        if len(columns) == 1:
            yield columns[0].in_([key[0] for key in some])
        else:
            yield or_(*(and_(*(column == value for column, value in zip(columns, key, strict=True))) for key in some))


def _about(kind: str, subjects: Sequence[Any]) -> ColumnElement[bool]:
    return and_(JOBS.c.kind == kind, JOBS.c.subject_id.in_(subjects))


def _keys(
    session: Session, table: Table, within: Callable[[Sequence[Any]], ColumnElement[bool]], above: Sequence[Any]
) -> Iterator[Key]:
    for some in _portions(above):
        for row in session.execute(select(*table.primary_key).where(within(some))):
            yield tuple(row)


def _portions(keys: Sequence[Any]) -> Iterator[Sequence[Any]]:
    for start in range(0, len(keys), AT_ONCE):
        yield keys[start : start + AT_ONCE]
