"""Setting an assignment: a brief and a rubric for one class."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.brief import Brief, read_brief
from rubric.located import decode
from rubric.messages.names import DRAW
from rubric.problems import Refused
from rubric.rubrics import Rubric, read_rubric
from service.jobs import open_job
from service.people.enrol import CannotEnrol, class_by_code, the_school
from service.records.models import Assignment, Contest, Job, Trial, Version
from service.saying import to_utc

T = TypeVar("T")


def add_contest(session: Session, title: str) -> Contest:
    """A contest that assignments may name.

    Raises
    ------
    CannotEnrol
        No title, or one that is taken.
    """
    plain = " ".join(title.split())[:200]
    if not plain:
        raise CannotEnrol("A contest needs a title.")
    if session.scalar(select(Contest.id).where(Contest.title == plain)) is not None:
        raise CannotEnrol(f"There already is a contest called '{plain}'. Give this one another title.")
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
    assignment = Assignment(
        class_id=school_class.id,
        contest_id=_contest(session, contest).id if contest else None,
        title=(" ".join(title.split()) or read.title)[:200],
        opens=to_utc(read.dates.opens, zone) if read.dates.opens else None,
        due=to_utc(read.dates.due, zone) if read.dates.due else None,
    )
    assignment.versions.append(
        Version(
            number=1,
            brief=read.model_dump(mode="json"),
            rubric=marking.model_dump(mode="json"),
            brief_text=decode(brief),
            rubric_text=decode(rubric),
            due=assignment.due,
        )
    )
    session.add(assignment)
    session.flush()
    return assignment, open_job(session, DRAW, assignment.id)


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
