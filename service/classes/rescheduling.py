"""Dates changed after work was set, for the class and for one student; and more attempts for one."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.language import _
from rubric.messages.names import PRINT
from service.classes.dates import DateRefused
from service.classes.handing_in import MOST_ATTEMPTS
from service.classes.history import Step, given, keep
from service.classes.setting import rubric_of
from service.jobs import open_job
from service.kept_words import ANOTHER_DUE_DATE
from service.marks import marks_now, total_up
from service.records.acts import note
from service.records.models import MARKED, Assignment, Extension, ExtraAttempts, Job, Person, Submission, Version

LONGEST_WHY = 300


def reschedule(
    session: Session, assignment_id: int, opens: datetime | None, due: datetime | None, person_id: int
) -> Version | None:
    """New dates (UTC) for a class.

    A new due date comes as a version of its own, so that what work was due by stays on record: work
    handed in before keeps its date until the class is marked again.  None where the due date stays.
    """
    session.execute(select(Assignment.id).where(Assignment.id == assignment_id).with_for_update())
    assignment = session.get_one(Assignment, assignment_id)
    if (assignment.opens, assignment.due) != (opens, due):
        note(session, person_id, "dates changed", "assignment", assignment_id)
    assignment.opens = opens
    if assignment.due == due:
        return None
    assignment.due = due
    last = assignment.newest
    version = Version(
        number=last.number + 1,
        brief=last.brief,
        rubric=last.rubric,
        brief_text=last.brief_text,
        rubric_text=last.rubric_text,
        why=ANOTHER_DUE_DATE,
        by_id=person_id,
        due=due,
        drawing=last.drawing,
        par_wood_g=last.par_wood_g,
    )
    assignment.versions.append(version)
    session.flush()
    return version


def extend(
    session: Session, assignment: Assignment, student: Person, due: datetime | None, why: str, person_id: int
) -> list[Job]:
    """Give a student a due date (UTC) of their own, change it, or with None take it back.

    Work that is marked already is late by the new date from now on; the jobs are those of new sheets.

    Raises
    ------
    DateRefused
        It is not later than the date of the class, or the reason is too long.
    """
    reason = " ".join(why.split())
    if len(reason) > LONGEST_WHY:
        raise DateRefused(_("The reason is over {most} letters. Shorten it.", most=LONGEST_WHY))
    if due is not None and assignment.due is None:
        raise DateRefused(_("The class has no due date, so there is nothing to extend. Give the class one first."))
    if due is not None and assignment.due is not None and due <= assignment.due:
        raise DateRefused(_("An extension ends after the due date of the class. Choose a later time."))
    marked = session.scalars(
        select(Submission)
        .where(
            Submission.assignment_id == assignment.id,
            Submission.student_id == student.id,
            Submission.state == MARKED,
        )
        .order_by(Submission.id)
        .with_for_update()
    ).all()
    before = [(one, marks_now(one).total, one.total) for one in marked]
    what = "more time given" if due else "more time taken back"
    note(session, person_id, what, "person", student.id, f"assignment no. {assignment.id}")
    _put(session, Extension(assignment_id=assignment.id, student_id=student.id, why=reason, by_id=person_id), due)
    jobs = []
    for submission, computed, total in before:
        session.refresh(submission, ["extension"])
        total_up(submission)
        after = marks_now(submission).total
        if computed != after:
            step = "due date extended" if due else "extension taken back"
            keep(session, submission, person_id, [Step(step, "", given(computed), given(after))], total)
            jobs += [] if submission.held else [open_job(session, PRINT, submission.id)]
    return jobs


def grant(session: Session, assignment: Assignment, student: Person, more: int, why: str, person_id: int) -> None:
    """Give a student so many attempts beyond those of the rubric; 0 takes them back.

    Raises
    ------
    DateRefused
        Attempts have no end, there would be more than anybody may have, or the reason is too long.
    """
    reason, most = " ".join(why.split()), rubric_of(assignment.newest).attempts.most
    if len(reason) > LONGEST_WHY:
        raise DateRefused(_("The reason is over {most} letters. Shorten it.", most=LONGEST_WHY))
    if most is None:
        raise DateRefused(_("Everybody may hand in as often as they like here, so there is nothing to give."))
    if not 0 <= more <= MOST_ATTEMPTS - most:
        room, ever = MOST_ATTEMPTS - most, MOST_ATTEMPTS
        raise DateRefused(_("Give 1 to {room} more: nobody hands in more than {most} times.", room=room, most=ever))
    there = session.get(ExtraAttempts, (assignment.id, student.id))
    if more:
        row = ExtraAttempts(assignment_id=assignment.id, student_id=student.id, more=more, why=reason, by_id=person_id)
        session.merge(row)
    elif there is not None:
        session.delete(there)
    note(session, person_id, "attempts given" if more else "attempts taken back", "person", student.id, f"{more} more")


def _put(session: Session, wanted: Extension, due: datetime | None) -> None:
    there = session.get(Extension, (wanted.assignment_id, wanted.student_id))
    if due is not None:
        wanted.due = due
        session.merge(wanted)
    elif there is not None:
        session.delete(there)
    session.flush()
