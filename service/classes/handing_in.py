"""A file taken in: stored as it came, with the job of marking it, in one commit.

Nothing here looks into the file.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import PurePosixPath

from sqlalchemy import select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from rubric.language import _
from rubric.messages.names import MARK
from service.classes import sketches
from service.classes.attempts_left import attempts_left, used_said
from service.classes.setting import marks_wait, rubric_of
from service.jobs import open_job
from service.people.sign_in import Writing
from service.records.acts import note
from service.records.at_the_desk import more_of
from service.records.models import Assignment, Job, Person, Submission, now

MOST_BYTES = 64 * 1024
MOST_ATTEMPTS = 50
SAME_CLICK = timedelta(seconds=10)
"""The same bytes again within this time are the same hand-in: somebody clicked twice."""

_TRIES = 5


class NotTaken(Exception):
    """The file was not taken; the message says why and what to do."""


class TooLarge(NotTaken):
    """The file is over the limit."""


class TooSoon(NotTaken):
    """The rubric asks to wait between two attempts; ``args[1]`` is the moment when the next may come (UTC)."""


class NotOpen(NotTaken):
    """Hand-in has not begun; ``args[1]`` is the moment when it does (UTC)."""


@dataclass(frozen=True)
class Taken:
    """A hand-in that is safe."""

    submission_id: int
    job: Job | None
    """What to send; None where the same file was already there."""


def check_size(data: bytes) -> None:
    """Refuse what cannot be a truss file before anything is stored.

    Raises
    ------
    NotTaken
        Empty, or over the limit.
    """
    if not data.strip():
        raise NotTaken(_("There was nothing in it. Choose your truss file, or paste its text."))
    if len(data) > MOST_BYTES:
        raise TooLarge(
            _(
                "That file has {size} KB. A truss file has at most 64 KB; 200 joints fit easily. "
                "Check that you chose the truss file itself and not a picture or a document.",
                size=-(-len(data) // 1024),
            )
        )


def hand_in(
    writing: Writing, student_id: int, assignment_id: int, file_name: str, data: bytes, by_id: int | None = None
) -> Taken:
    """Keep one attempt and open its marking job.

    Parameters
    ----------
    student_id, assignment_id
        Already found to belong together.
    by_id
        Who of the staff hands it in for the student.  Opening, number of attempts and the wait between
        them bind students alone.

    Raises
    ------
    NotTaken
        Before hand-in opens, too soon after the attempt before, or too many attempts.
    """
    for __ in range(_TRIES):
        try:
            with writing() as session:
                return _keep(session, student_id, assignment_id, file_name, data, by_id)
        except IntegrityError:
            continue  # two hand-ins in the same instant chose the same number: choose again
    raise NotTaken(_("Many files of yours arrived at once. Nothing was saved of this one. Hand it in again."))


def plain_file_name(name: str) -> str:
    """The last part of a file name as a browser gave it, without control characters."""
    last = PurePosixPath(name.replace("\\", "/")).name
    plain = "".join(c for c in last if c.isprintable())[:200]
    return plain if plain.strip(". ") else "file"


def _keep(
    session: Session, student_id: int, assignment_id: int, file_name: str, data: bytes, by_id: int | None
) -> Taken:
    # One hand-in of a student after the other: the lock is on the student's own row alone.
    session.execute(select(Person.id).where(Person.id == student_id).with_for_update())
    moment = now()
    assignment = session.get_one(Assignment, assignment_id)
    if by_id is None:
        _check_open(assignment, moment)
    sha256 = hashlib.sha256(data).hexdigest()
    own = session.scalars(
        select(Submission)
        .where(Submission.assignment_id == assignment_id, Submission.student_id == student_id)
        .order_by(Submission.number)
    ).all()
    newest = own[-1] if own else None
    if newest and newest.file_sha256 == sha256 and moment - newest.handed_in < SAME_CLICK:
        return Taken(newest.id, None)
    number = newest.number + 1 if newest else 1
    if number > MOST_ATTEMPTS:
        said = (
            _("You have handed in {count} times, which is the most there is. Ask your teacher.", count=MOST_ATTEMPTS)
            if by_id is None
            else _(
                "This student has handed in {count} times, which is the most there is. Ask your teacher.",
                count=MOST_ATTEMPTS,
            )
        )
        raise NotTaken(said)
    if by_id is None:
        _check_attempts(assignment, own, moment, more_of(session, assignment_id, student_id))
    row = Submission(
        assignment_id=assignment_id,
        version_id=assignment.newest.id,
        student_id=student_id,
        number=number,
        file_name=file_name,
        file=data,
        file_sha256=sha256,
        handed_in=moment,
        judgements={},
        held=marks_wait(assignment),
        by_id=by_id,
    )
    session.add(row)
    sketches.forget(session, student_id)
    session.flush()
    if by_id is not None:
        note(session, by_id, "handed in for a pupil", "person", student_id)
    return Taken(row.id, open_job(session, MARK, row.id))


def _check_attempts(assignment: Assignment, own: Sequence[Submission], moment: datetime, more: int) -> None:
    left = attempts_left(rubric_of(assignment.newest).attempts, own, moment, more)
    if left.left == 0:
        nothing = _("Nothing was saved of this file. Ask your teacher if you need one more.")
        raise NotTaken(f"{used_said(left)} {nothing}")
    if left.next_at is not None:
        raise TooSoon(_("Take your time between two attempts. Nothing was saved of this file."), left.next_at)


def _check_open(assignment: Assignment, moment: datetime) -> None:
    if assignment.school_class.archived_at is not None:
        raise NotTaken(_("Your class is put away, and nothing is handed in any more. Ask your teacher."))
    if assignment.opens is not None and moment < assignment.opens:
        raise NotOpen(_("Hand-in has not begun."), assignment.opens)
