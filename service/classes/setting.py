"""Setting an assignment: a brief and a rubric for one class."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.brief import Brief, read_brief
from rubric.language import _
from rubric.located import decode
from rubric.messages.names import DRAW
from rubric.problems import Refused
from rubric.rubrics import Rubric, read_rubric
from service.jobs import open_job
from service.people.enrol import CannotEnrol, class_by_code, the_school
from service.records.models import Assignment, Contest, Job, Trial, Version
from service.saying import to_utc

T = TypeVar("T")


@dataclass(frozen=True)
class Terms:
    """What is chosen for a class beside the brief and the rubric; times are UTC."""

    title: str
    opens: datetime | None = None
    due: datetime | None = None
    contest_id: int | None = None
    release_by_hand: bool = False
    by_id: int | None = None


def add_contest(session: Session, title: str) -> Contest:
    """A contest that assignments may name.

    Raises
    ------
    CannotEnrol
        No title, or one that is taken.
    """
    plain = " ".join(title.split())[:200]
    if not plain:
        raise CannotEnrol(_("A contest needs a title."))
    if session.scalar(select(Contest.id).where(Contest.title == plain)) is not None:
        raise CannotEnrol(_("There already is a contest called '{title}'. Give this one another title.", title=plain))
    found = Contest(title=plain)
    session.add(found)
    session.flush()
    return found


def set_assignment(
    session: Session, code: str, brief: bytes, rubric: bytes, title: str = "", contest: str = ""
) -> tuple[Assignment, Job]:
    """Set an assignment for the class with ``code``, and open the job of drawing its envelope.

    Parameters
    ----------
    brief, rubric
        The bytes of their YAML files.
    title
        Shown to students; the brief's own title where left out.
    contest
        Title of the contest it counts for.

    Returns
    -------
    The assignment, and the job to send after the commit.

    Raises
    ------
    CannotEnrol
        With every problem of the brief and the rubric.
    """
    school_class = class_by_code(session, code)
    read = _read("the brief", read_brief, brief)
    marking = _read("the rubric", read_rubric, rubric)
    zone = the_school(session).zone
    terms = Terms(
        title=title,
        opens=to_utc(read.dates.opens, zone) if read.dates.opens else None,
        due=to_utc(read.dates.due, zone) if read.dates.due else None,
        contest_id=_contest(session, contest).id if contest else None,
    )
    return give(session, school_class.id, (decode(brief), decode(rubric)), (read, marking), terms)


def give(
    session: Session, class_id: int, texts: tuple[str, str], values: tuple[Brief, Rubric], terms: Terms
) -> tuple[Assignment, Job]:
    """Give a class an assignment: a brief and a rubric as written and as read; the job draws its envelope."""
    brief, rubric = values
    assignment = Assignment(
        class_id=class_id,
        contest_id=terms.contest_id,
        title=(" ".join(terms.title.split()) or brief.title)[:200],
        opens=terms.opens,
        due=terms.due,
        release_by_hand=terms.release_by_hand,
    )
    assignment.versions.append(
        Version(
            number=1,
            brief=brief.model_dump(mode="json"),
            rubric=rubric.model_dump(mode="json"),
            brief_text=texts[0],
            rubric_text=texts[1],
            by_id=terms.by_id,
            due=terms.due,
        )
    )
    session.add(assignment)
    session.flush()
    return assignment, open_job(session, DRAW, assignment.id)


def dates_by(brief: Brief, assignment: Assignment, zone: str) -> tuple[datetime | None, datetime | None]:
    """When an assignment opens and is due (UTC) under a brief that is to follow its newest version.

    Dates set for the class stand until a brief comes whose own dates are others than before.
    """
    if brief.dates == brief_of(assignment.newest).dates:
        return assignment.opens, assignment.due
    opens, due = brief.dates.opens, brief.dates.due
    return to_utc(opens, zone) if opens else None, to_utc(due, zone) if due else None


def brief_of(version: Version | Trial) -> Brief:
    """The brief as a value."""
    return Brief.model_validate(version.brief)


def rubric_of(version: Version | Trial) -> Rubric:
    """The rubric as a value."""
    return Rubric.model_validate(version.rubric)


def marks_wait(assignment: Assignment) -> bool:
    """Whether marks of attempts to come wait for a teacher: the rubric says so, or the teacher did."""
    return assignment.release_by_hand or rubric_of(assignment.newest).release == "by hand"


def _read(what: str, reader: Callable[[bytes], T], data: bytes) -> T:
    try:
        return reader(data)
    except Refused as refused:
        raise CannotEnrol(f"There is something to mend in {what}:\n{refused}") from None


def _contest(session: Session, title: str) -> Contest:
    plain = " ".join(title.split())
    found = session.scalar(select(Contest).where(Contest.title == plain))
    if found is None:
        known = session.scalars(select(Contest.title).order_by(Contest.title)).all()
        there = f"There are: {', '.join(known)}." if known else "There is none yet: make one with 'contest TITLE'."
        raise CannotEnrol(f"There is no contest called '{plain}'. {there}")
    return found
