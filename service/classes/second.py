"""Second marking: a teacher who does not teach the class marks the same work, blind.

``ask`` opens it, ``answer`` keeps what the second teacher gave, ``differences`` lists where the
two differ once both have given all points, and ``settle`` says which points stand, and why.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.criteria.common import Judged
from rubric.language import _
from rubric.messages.names import PRINT
from service.classes.history import Step, given, keep
from service.classes.judging import (
    LONGEST_COMMENT,
    NotJudged,
    lock_marked,
    points_typed,
    read_judgements,
    reason_too_long,
    to_judge,
)
from service.jobs import open_job
from service.kept_words import SECOND_ASKED, SECOND_DONE, SECOND_WITHDRAWN
from service.marks import judged, judgements_of, total_up
from service.records import second_markings
from service.records.models import MARKED, Job, Person, SecondMarking, Submission, now


@dataclass(frozen=True)
class Difference:
    """One criterion to which the two gave points."""

    number: int
    name: str
    of: float
    first: float
    second: float
    first_said: str
    second_said: str
    settled: Judged | None
    """The points that stand, with the reason."""

    @property
    def open(self) -> bool:
        """Whether it waits to be settled."""
        return self.first != self.second and self.settled is None


def ask(session: Session, person_id: int, marker_id: int, class_id: int, submission_ids: Iterable[int]) -> int:
    """Ask a teacher to mark these attempts a second time; how many were not asked for before.

    Raises
    ------
    NotJudged
        The teacher teaches the class, or is none.
    """
    marker = next((one for one in second_markings.may_be_asked(session, class_id) if one.id == marker_id), None)
    if marker is None:
        raise NotJudged(_("Choose a teacher who does not teach this class: only then is the marking blind."))
    asked = select(SecondMarking.submission_id).where(SecondMarking.marker_id == marker.id)
    wanted = select(Submission).where(
        Submission.id.in_(list(submission_ids)),
        Submission.id.not_in(asked),
        Submission.state == MARKED,
        Submission.has_mistakes.is_(False),
    )
    found = [one for one in session.scalars(wanted.order_by(Submission.id)) if to_judge(one.version)]
    for submission in found:
        session.add(SecondMarking(submission_id=submission.id, marker_id=marker.id, asked_by_id=person_id))
        step = Step(SECOND_ASKED, after=marker.name, silent=True)
        keep(session, submission, person_id, [step], submission.total)
    return len(found)


def withdraw(session: Session, person_id: int, marking_id: int) -> bool:
    """Take back what was asked and is not done yet; whether it was."""
    found = session.get_one(SecondMarking, marking_id)
    if found.done_at is not None:
        return False
    step = Step(SECOND_WITHDRAWN, before=found.marker.name, silent=True)
    keep(session, found.submission, person_id, [step], found.submission.total)
    session.delete(found)
    return True


def answer(session: Session, marking_id: int, form: Mapping[str, str]) -> None:
    """Keep what the second teacher gave: all at once, and once.

    Raises
    ------
    NotJudged
        Points that are missing or out of range, or given already, or not blind any more.
    """
    found = session.scalars(select(SecondMarking).where(SecondMarking.id == marking_id).with_for_update()).one()
    if found.done_at is not None:
        raise NotJudged(_("You have given your points already. They stay as they are."))
    if not is_blind(session, found):
        raise NotJudged(_("You teach this class by now, so this would not be blind. Tell who asked you."))
    points = read_judgements(found.submission.version, form)
    for __, criterion in to_judge(found.submission.version):
        if criterion.name not in points:
            name = criterion.name
            raise NotJudged(_("'{criterion}' has no points yet. Give points for each; 0 counts too.", criterion=name))
    found.points = {name: one.model_dump() for name, one in points.items()}
    found.done_at = now()
    step = Step(SECOND_DONE, silent=True)
    keep(session, found.submission, found.marker_id, [step], found.submission.total)


def is_blind(session: Session, marking: SecondMarking) -> bool:
    """Whether the second teacher still does not teach the class."""
    class_id = marking.submission.assignment.class_id
    return any(one.id == marking.marker_id for one in second_markings.may_be_asked(session, class_id))


def differences(marking: SecondMarking) -> tuple[Difference, ...] | None:
    """All criteria both have given points to; None while one of them has still to do so.

    Nobody sees what the other gave before giving their own.
    """
    first, second = judgements_of(marking.submission), judged(marking.points)
    settled, criteria = judged(marking.settled), to_judge(marking.submission.version)
    if marking.done_at is None or any(one.name not in first or one.name not in second for __, one in criteria):
        return None
    return tuple(
        Difference(
            number=number,
            name=one.name,
            of=one.points,
            first=first[one.name].points,
            second=second[one.name].points,
            first_said=first[one.name].comment,
            second_said=second[one.name].comment,
            settled=settled.get(one.name),
        )
        for number, one in criteria
    )


def settle(session: Session, marking_id: int, person: Person, form: Mapping[str, str]) -> Job | None:
    """Say which points stand where the two differ; the job of a new sheet, where the mark changed.

    Raises
    ------
    NotJudged
        Points or a reason that is missing, or the marking is not done.
    """
    marking = session.scalars(select(SecondMarking).where(SecondMarking.id == marking_id).with_for_update()).one()
    submission = lock_marked(session, marking.submission_id)
    if person.id == marking.marker_id:
        raise NotJudged(_("You marked this the second time. The class's own teacher settles what differs."))
    wanted = _settled(marking, form)
    total_before, steps = submission.total, []
    for one, stands in wanted:
        said = f"{given(one.first)} first, {given(one.second)} second"
        same = stands.points == one.first
        steps.append(Step("second marking settled", one.name, said, given(stands.points), stands.comment, silent=same))
        kept = Judged(points=stands.points, comment=one.first_said)
        submission.judgements = submission.judgements | {one.name: kept.model_dump()}
        marking.settled = marking.settled | {one.name: stands.model_dump()}
    total_up(submission)
    keep(session, submission, person.id, steps, total_before)
    changed = submission.total != total_before and not submission.held
    return open_job(session, PRINT, submission.id) if changed else None


def _settled(marking: SecondMarking, form: Mapping[str, str]) -> list[tuple[Difference, Judged]]:
    found = []
    criteria = dict(to_judge(marking.submission.version))
    for one in differences(marking) or ():
        typed, why = form.get(f"points-{one.number}", "").strip(), " ".join(form.get(f"why-{one.number}", "").split())
        if not one.open or not (typed or why):
            continue
        if len(why) > LONGEST_COMMENT:
            raise NotJudged(reason_too_long(one.name))
        if not typed or not why:
            raise NotJudged(_("Write the points that stand for '{criterion}', and why.", criterion=one.name))
        found.append((one, Judged(points=points_typed(typed, criteria[one.number]), comment=why)))
    if not found:
        raise NotJudged(_("Nothing was settled: write the points that stand, and why."))
    return found
