"""A class at one assignment, one row for each student, in one statement.

The state of each student is found out by the database, from one index that holds all it needs
(``ix_submissions_table``): no file and no outcome is read, however many attempts there are.
:func:`service.classes.overview.rows` says the same of attempts that are at hand; a test holds the two equal.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, ScalarSelect, Select, Subquery, and_, case, func, literal, select
from sqlalchemy.orm import Session, aliased

from rubric.rules.attempts import Attempts
from service.classes.overview import ATTENTION, DONE, FAILED, NOT_STARTED, WAITING, Row, sort_key
from service.records.models import MARKED, NOT_MARKED, RECEIVED, Assignment, Notice, Person, Sheet, Submission
from service.records.queries import AttemptLine, line_query

_AT_ONCE = 500
"""Ids in one question."""


@dataclass(frozen=True)
class Head:
    """What the table needs to know of every student, shown or not."""

    student_id: int
    name: str
    attempts: int
    held: int
    """Attempts whose marks are held."""
    earlier: int
    """Attempts that are marked under an earlier version."""
    newest_id: int | None
    counts_id: int | None
    best_efficiency: float | None
    to_judge: bool
    noticed: bool
    printed: bool
    """Whether the attempt that counts has a sheet."""
    state: str


def heads(session: Session, found: Assignment, rule: Attempts) -> list[Head]:
    """Every student of the class of an assignment, by name."""
    rows = [Head(**row) for row in session.execute(_statement(found, rule, _noticed(session, found))).mappings()]
    return sorted(rows, key=lambda row: sort_key(row.name))


def full(session: Session, chosen: Sequence[Head]) -> list[Row]:
    """The rows of these students, in this order."""
    ids = [number for head in chosen for number in {head.newest_id, head.counts_id} if number is not None]
    lines: dict[int, AttemptLine] = {}
    people: dict[int, Person] = {}
    for at in range(0, len(ids), _AT_ONCE):
        rows = session.execute(line_query().where(Submission.id.in_(ids[at : at + _AT_ONCE])))
        lines |= {row["id"]: AttemptLine(**row) for row in rows.mappings()}
    for at in range(0, len(chosen), _AT_ONCE):
        some = [head.student_id for head in chosen[at : at + _AT_ONCE]]
        people |= {one.id: one for one in session.scalars(select(Person).where(Person.id.in_(some)))}
    return [_row(head, people[head.student_id], lines) for head in chosen]


def _row(head: Head, student: Person, lines: dict[int, AttemptLine]) -> Row:
    newest = lines[head.newest_id] if head.newest_id is not None else None
    counts = lines[head.counts_id] if head.counts_id is not None else None
    dated = counts or newest
    return Row(
        student=student,
        attempts=head.attempts,
        newest=newest,
        counts=counts,
        best_efficiency=head.best_efficiency,
        late=dated is not None and dated.late,
        noticed=head.noticed,
    )


def _statement(found: Assignment, rule: Attempts, noticed: Sequence[int]) -> Select[*tuple[Any, ...]]:
    tally = _tally(found)
    each = (
        select(
            Person.id,
            Person.name,
            _counting(found, rule).label("counts"),
            func.coalesce(tally.c.attempts, 0).label("attempts"),
            func.coalesce(tally.c.held, 0).label("held"),
            func.coalesce(tally.c.earlier, 0).label("earlier"),
            tally.c.newest,
            tally.c.best,
            Person.id.in_(noticed).label("noticed"),
        )
        .outerjoin(tally, tally.c.student_id == Person.id)
        .where(Person.class_id == found.class_id, Person.left_at.is_(None))
        .subquery()
    )
    newest, counts = aliased(Submission), aliased(Submission)
    to_judge = func.coalesce(counts.waiting_points, 0.0) != 0.0
    best = each.c.best if rule.counts == "best" else case((counts.on_board, counts.efficiency))
    return (
        select(
            each.c.id.label("student_id"),
            each.c.name,
            each.c.attempts,
            each.c.held,
            each.c.earlier,
            newest.id.label("newest_id"),
            counts.id.label("counts_id"),
            best.label("best_efficiency"),
            to_judge.label("to_judge"),
            each.c.noticed,
            Sheet.submission_id.is_not(None).label("printed"),
            _state(newest, each.c.noticed | to_judge).label("state"),
        )
        .select_from(each)
        .outerjoin(newest, _is_attempt(newest, found, each, each.c.newest))
        .outerjoin(counts, _is_attempt(counts, found, each, each.c.counts))
        .outerjoin(Sheet, Sheet.submission_id == counts.id)
    )


def _state(newest: type[Submission], attention: ColumnElement[bool]) -> ColumnElement[str]:
    return case(
        (newest.id.is_(None), literal(NOT_STARTED)),
        (newest.state == NOT_MARKED, literal(FAILED)),
        (attention, literal(ATTENTION)),
        (newest.state == RECEIVED, literal(WAITING)),
        else_=literal(DONE),
    )


def _is_attempt(
    one: type[Submission], found: Assignment, each: Subquery, number: ColumnElement[Any]
) -> ColumnElement[bool]:
    return and_(one.assignment_id == found.id, one.student_id == each.c.id, one.number == number)


def _tally(found: Assignment) -> Subquery:
    """What is counted over all attempts of a student."""
    return (
        select(
            Submission.student_id,
            func.count().label("attempts"),
            func.max(Submission.number).label("newest"),
            func.max(case((Submission.on_board, Submission.efficiency))).label("best"),
            func.sum(case((Submission.held, 1), else_=0)).label("held"),
            func.sum(case((Submission.version_id != found.newest.id, 1), else_=0)).label("earlier"),
        )
        .where(Submission.assignment_id == found.id)
        .group_by(Submission.student_id)
        .subquery()
    )


def _counting(found: Assignment, rule: Attempts) -> ScalarSelect[int]:
    """The number of the attempt that counts; a file with mistakes only where there is nothing better."""
    order = {
        "best": (Submission.total.desc(), Submission.number),
        "first": (Submission.number,),
        "last": (Submission.number.desc(),),
    }[rule.counts]
    return (
        select(Submission.number)
        .where(
            Submission.assignment_id == found.id,
            Submission.student_id == Person.id,
            Submission.state == MARKED,
            Submission.total.is_not(None),
        )
        .order_by(Submission.has_mistakes, *order)
        .limit(1)
        .correlate(Person)
        .scalar_subquery()
    )


def _noticed(session: Session, found: Assignment) -> Sequence[int]:
    """Students with an attempt that an open notice is about: few, and asked for apart so that notices lead."""
    open_ones = and_(Notice.settled.is_(False), Notice.class_id == found.class_id)
    about = select(Submission.student_id).join(Notice, Notice.submission_id == Submission.id)
    return session.scalars(about.where(open_ones, Submission.assignment_id == found.id).distinct()).all()
