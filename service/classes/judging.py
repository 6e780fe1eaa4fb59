"""What a teacher adds to a mark: points for criteria that no computation judges."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from rubric.criteria.common import Criterion, Judged
from rubric.criteria.judgement import Judgement
from rubric.language import _
from rubric.messages.names import MARK, PRINT
from rubric.problems import quoted
from rubric.quantities import number
from rubric.wording import figure
from service.classes.history import OWN, Step, given, keep
from service.classes.setting import rubric_of
from service.jobs import open_job
from service.marks import judgements_of, total_up
from service.records.models import DONE, FAILED, RECEIVED, Job, Notice, Submission, Version

LONGEST_COMMENT = 600


class NotJudged(Exception):
    """What was typed cannot be taken; the message says where and why."""


def to_judge(version: Version) -> tuple[tuple[int, Judgement], ...]:
    """The criteria that wait for a teacher, each with its place in the rubric."""
    criteria = rubric_of(version).criteria
    return tuple((place, found) for place, found in enumerate(criteria) if isinstance(found, Judgement))


def read_judgements(version: Version, form: Mapping[str, str]) -> dict[str, Judged]:
    """What a teacher typed, by name of the criterion; a field left empty leaves it waiting.

    Raises
    ------
    NotJudged
        Points that are no number or out of range, or a comment that is too long.
    """
    found = {}
    for place, criterion in to_judge(version):
        typed = form.get(f"points-{place}", "").strip()
        comment = " ".join(form.get(f"comment-{place}", "").split())
        if len(comment) > LONGEST_COMMENT:
            raise NotJudged(comment_too_long(criterion.name))
        if not typed and comment:
            said = _("'{criterion}' has a comment and no points. Write points too.", criterion=criterion.name)
            raise NotJudged(said)
        if typed:
            found[criterion.name] = Judged(points=points_typed(typed, criterion), comment=comment)
    return found


def comment_too_long(name: str) -> str:
    """What is said of a comment on a criterion that is over the most letters."""
    return _("The comment on '{criterion}' is over {most} letters. Shorten it.", criterion=name, most=LONGEST_COMMENT)


def reason_too_long(name: str) -> str:
    """What is said of such a reason."""
    return _("The reason for '{criterion}' is over {most} letters. Shorten it.", criterion=name, most=LONGEST_COMMENT)


def judge(session: Session, submission_id: int, person_id: int, judgements: Mapping[str, Judged]) -> Job | None:
    """Keep a teacher's judgement, add the marks up again and open the job of a new sheet.

    While the mark is held there is no new sheet: it is printed when the mark is released.

    Raises
    ------
    NotJudged
        The file is not marked yet.
    """
    submission = lock_marked(session, submission_id)
    before, total_before = judgements_of(submission), submission.total
    submission.judgements = {name: judged.model_dump() for name, judged in judgements.items()}
    total_up(submission)
    keep(session, submission, person_id, _steps(before, judgements), total_before)
    return None if submission.held else open_job(session, PRINT, submission.id)


def lock_marked(session: Session, submission_id: int) -> Submission:
    """The row of a marked attempt, locked until the end of the session.

    Raises
    ------
    NotJudged
        The file is not marked yet.
    """
    submission = _locked(session, submission_id)
    if submission.outcome is None or submission.state == RECEIVED:
        raise NotJudged(_("This file is still being marked. Try again in a few seconds."))
    return submission


def points_typed(typed: str, criterion: Criterion) -> float:
    """The points that a teacher typed for a criterion.

    Raises
    ------
    NotJudged
        No number, or out of range.
    """
    points = number(typed.replace(",", "."))
    low, high = criterion.bounds
    if points is None or not low <= points <= high:
        raise NotJudged(
            _(
                "{typed} for '{criterion}' is not between {least} and {most} points. Write a plain number.",
                typed=quoted(typed),
                criterion=criterion.name,
                least=figure(low, 4),
                most=figure(high, 4),
            )
        )
    return round(points, 2)


def _steps(before: Mapping[str, Judged], after: Mapping[str, Judged]) -> list[Step]:
    """What a saving changes; points where there were none yet are no change of a given mark."""
    return [
        Step(
            what=OWN,
            criterion=name,
            before=given(before[name].points if name in before else None),
            after=given(after[name].points if name in after else None),
            why=after[name].comment if name in after else "",
            silent=name not in before or (name in after and before[name].points == after[name].points),
        )
        for name in {**before, **after}
        if before.get(name) != after.get(name)
    ]


def again(session: Session, submission_id: int) -> Job | None:
    """Open a failed job of an attempt once more and settle its notices; None where nothing failed."""
    submission = _locked(session, submission_id)
    for kind in (MARK, PRINT):
        state = session.scalar(select(Job.state).where(Job.kind == kind, Job.subject_id == submission_id))
        if state == FAILED or (state is None and kind == MARK):
            if kind == MARK:
                submission.state = RECEIVED
            settled = update(Notice).where(Notice.submission_id == submission_id).values(settled=True)
            session.execute(settled)
            return open_job(session, kind, submission_id)
        if state != DONE:
            return None
    return None


def _locked(session: Session, submission_id: int) -> Submission:
    return session.scalars(select(Submission).where(Submission.id == submission_id).with_for_update()).one()
