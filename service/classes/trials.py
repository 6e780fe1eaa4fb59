"""Trying a brief and a rubric out on work that is there, before anything changes.

Where only the marking differs, what was measured still holds and the marks are worked out here at once.
Where the brief differs, or what is compared by hand, a worker solves each file again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from rubric.brief import Brief
from rubric.criteria.working import Working
from rubric.evidence import Evidence
from rubric.language import _
from rubric.marking import Marks, mark
from rubric.messages.names import TRY
from rubric.rubrics import Rubric
from service.classes.compared import Student, Work, student
from service.classes.overview import sort_key
from service.classes.samples import samples
from service.classes.setting import dates_by, rubric_of
from service.jobs import open_job
from service.marks import evidence_from, judged, judgements_of, marks_now
from service.people.enrol import the_school
from service.records.models import FAILED, MARKED, Assignment, Job, Submission, Trial, TrialWork, Version

SAID_ONLY = {"title", "age", "task", "dates"}
"""Keys of a brief that change no computation."""


def begin(
    session: Session,
    assignment: Assignment,
    person_id: int,
    texts: tuple[str, str],
    values: tuple[Brief, Rubric],
    version: Version | None = None,
) -> tuple[Trial, list[Job]]:
    """Begin a trial over all marked work of an assignment, and samples; the jobs that workers get.

    Parameters
    ----------
    texts, values
        The brief and the rubric, as written and as read.
    version
        The version whose texts these are; None: a draft.
    """
    brief, rubric = values
    _clear(session, assignment.id, person_id)
    trial = Trial(
        assignment_id=assignment.id,
        version_id=version.id if version else None,
        brief=brief.model_dump(mode="json"),
        rubric=rubric.model_dump(mode="json"),
        brief_text=texts[0],
        rubric_text=texts[1],
        by_id=person_id,
        due=version.due if version else dates_by(brief, assignment, the_school(session).zone)[1],
    )
    for found in _marked(session, assignment.id):
        trial.works.append(TrialWork(submission_id=found.id, for_worker=not _still_holds(found.version, trial)))
    for name, text in samples(brief):
        trial.works.append(TrialWork(name=name, file=text.encode(), for_worker=True))
    session.add(trial)
    session.flush()
    return trial, [open_job(session, TRY, work.id) for work in trial.works if work.for_worker]


def waiting(session: Session, trial: Trial, *, samples_too: bool = True) -> int:
    """How many files workers still have."""
    failed = _failed(session, trial)
    works = [work for work in trial.works if samples_too or work.submission_id is not None]
    return sum(1 for work in works if work.for_worker and work.outcome is None and work.id not in failed)


def students(session: Session, trial: Trial) -> list[Student]:
    """Marks before and after, by student."""
    failed = _failed(session, trial)
    by_student: dict[tuple[str, int], list[Work]] = {}
    old = rubric_of(trial.assignment.newest).attempts
    for work in trial.works:
        if work.submission is not None:
            found = work.submission
            by_student.setdefault((found.student.name, found.student_id), []).append(_attempt(work, trial, failed))
    ordered = sorted(by_student.items(), key=lambda item: sort_key(item[0][0]))
    new = rubric_of(trial).attempts
    return [student(name, sorted(works, key=lambda w: w.number), old, new) for (name, _), works in ordered]


def tried_samples(session: Session, trial: Trial) -> list[Work]:
    """The samples; before is None where the brief is not the one that stands."""
    failed, newest = _failed(session, trial), trial.assignment.newest
    comparable = same_brief(newest.brief, trial.brief)
    found = []
    for number, work in enumerate((one for one in trial.works if one.submission_id is None), start=1):
        known = _evidence(work.outcome) if work.outcome else None
        before = mark(rubric_of(newest), known) if known and comparable else None
        after = mark(rubric_of(trial), known) if known else None
        mistakes = bool(work.outcome and work.outcome["mistakes"])
        found.append(Work(work.name, number, None, before, after, work.id in failed, mistakes))
    return found


def marks_tried(work: TrialWork, trial: Trial) -> Marks | None:
    """The marks of an attempt under the trial, with all that a teacher gave; None while they are not known."""
    found = work.submission
    if found is None or (work.for_worker and work.outcome is None):
        return None
    known = evidence_from(work.outcome or found.outcome or {}, found, trial.due)
    return mark(rubric_of(trial), known, judgements_of(found), judged(found.corrections))


def _clear(session: Session, assignment_id: int, person_id: int) -> None:
    """Take out what the same teacher tried before and did not use: outcomes are large."""
    unused = select(Trial.id).where(
        Trial.assignment_id == assignment_id, Trial.by_id == person_id, Trial.marked_again_at.is_(None)
    )
    works = select(TrialWork.id).where(TrialWork.trial_id.in_(unused))
    session.execute(delete(Job).where(Job.kind == TRY, Job.subject_id.in_(works)))
    session.execute(delete(TrialWork).where(TrialWork.trial_id.in_(unused)))
    session.execute(delete(Trial).where(Trial.id.in_(unused)))


def _attempt(work: TrialWork, trial: Trial, failed: set[int]) -> Work:
    found = work.submission
    assert found is not None
    outcome = work.outcome or found.outcome or {}
    return Work(
        title=_("Attempt {number}", number=found.number),
        number=found.number,
        submission_id=found.id,
        before=marks_now(found),
        after=marks_tried(work, trial),
        failed=work.id in failed,
        has_mistakes=bool(outcome.get("mistakes")),
    )


def _marked(session: Session, assignment_id: int) -> Sequence[Submission]:
    wanted = select(Submission).where(Submission.assignment_id == assignment_id, Submission.state == MARKED)
    return session.scalars(wanted.order_by(Submission.student_id, Submission.number)).all()


def _failed(session: Session, trial: Trial) -> set[int]:
    ids = [work.id for work in trial.works]
    return set(
        session.scalars(select(Job.subject_id).where(Job.kind == TRY, Job.state == FAILED, Job.subject_id.in_(ids)))
    )


def _still_holds(version: Version, trial: Trial) -> bool:
    """Whether what was measured and compared under a version serves for the trial too."""
    if not same_brief(version.brief, trial.brief):
        return False
    old, new = _compared_by_hand(version.rubric), _compared_by_hand(trial.rubric)
    return all(old.get(name) == how for name, how in new.items())


def same_brief(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether two briefs, as JSON, are computed alike."""
    return Brief.model_validate(one).model_dump(exclude=SAID_ONLY) == Brief.model_validate(other).model_dump(
        exclude=SAID_ONLY
    )


def _compared_by_hand(rubric: Mapping[str, Any]) -> dict[str, Any]:
    """By criterion: what is asked and how near it must be, which is what a worker compares with."""
    criteria = Rubric.model_validate(rubric).criteria
    return {c.name: (c.asks, c.within, c.or_within_N) for c in criteria if isinstance(c, Working)}


def _evidence(outcome: Mapping[str, Any]) -> Evidence:
    return Evidence.model_validate({"measures": outcome["measures"], "working": outcome["working"]})
