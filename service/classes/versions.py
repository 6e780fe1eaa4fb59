"""Versions of a brief and a rubric: saving a new one, marking a class again under one, undoing that in one step."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.language import ENGLISH, _, counted, speaking
from rubric.marking import Marks
from rubric.messages.names import DRAW, PRINT
from service.classes.compared import differences, side
from service.classes.history import Step, keep
from service.classes.setting import brief_of, dates_by, rubric_of
from service.classes.trials import same_brief, waiting
from service.jobs import open_job
from service.marks import keep_outcome, marks_now, may_stand_on_board, total_up
from service.outcomes import plan_again
from service.people.enrol import the_school
from service.records.models import MARKED, Assignment, Job, Submission, Trial, TrialWork, Version, now

LONGEST_WHY = 600


class NotChanged(Exception):
    """Nothing was saved; the message says why and what to do."""


def save(session: Session, trial_id: int, person_id: int, why: str) -> tuple[Version, list[Job]]:
    """Make a draft the next version; work that is handed in from now on is marked under it.

    Raises
    ------
    NotChanged
        It was saved already, or is the same as the version that stands.
    """
    trial = _locked(session, trial_id)
    assignment, newest = trial.assignment, trial.assignment.newest
    if trial.version_id is not None:
        number = trial.version.number if trial.version else ""
        raise NotChanged(_("This is version {number} already.", number=number))
    if (trial.brief, trial.rubric) == (newest.brief, newest.rubric):
        same = _("This says the same as version {number}. There is nothing to save.", number=newest.number)
        raise NotChanged(same)
    kept = same_brief(newest.brief, trial.brief)
    _follow(session, assignment, newest, trial)
    trial.due = assignment.due
    version = Version(
        number=newest.number + 1,
        brief=trial.brief,
        rubric=trial.rubric,
        brief_text=trial.brief_text,
        rubric_text=trial.rubric_text,
        why=_reason(why),
        by_id=person_id,
        due=trial.due,
        drawing=newest.drawing if kept else None,
        par_wood_g=newest.par_wood_g if kept else None,
    )
    assignment.versions.append(version)
    session.flush()
    trial.version_id = version.id
    return version, [] if kept and version.drawing else [open_job(session, DRAW, assignment.id)]


def mark_again(session: Session, trial_id: int, person_id: int, why: str) -> tuple[int, list[Job]]:
    """Mark all work of a trial under its version, in one transaction; how many marks moved, and the jobs of new sheets.

    Raises
    ------
    NotChanged
        No reason, not saved as a version yet, workers still have some of it, or it was done before.
    """
    trial = _locked(session, trial_id)
    version = session.get(Version, trial.version_id) if trial.version_id else None
    if version is None:
        raise NotChanged(_("Save it as a version first."))
    if trial.marked_again_at is not None:
        raise NotChanged(_("The class was marked again by this already. Begin a new one."))
    if left := waiting(session, trial, samples_too=False):
        raise NotChanged(
            counted(
                "{count} file must still be solved again. Wait a few seconds.",
                "{count} files must still be solved again. Wait a few seconds.",
                left,
            )
        )
    trial.why, trial.marked_again_at = _reason(why), now()
    sheets, plans = list[Job](), list[Job]()
    for work, submission in _works(session, trial):
        if work.for_worker and work.outcome is None:
            continue  # a worker gave it up: it stays under the version it has
        if submission.version_id == version.id and work.outcome is None:
            continue
        before, total_before = marks_now(submission), submission.total
        work.version_before_id = submission.version_id
        work.outcome_before = submission.outcome if work.outcome else None
        _put(session, submission, version.id, work.outcome)
        steps = _steps(before, marks_now(submission), f"marked again, version {version.number}", trial.why)
        keep(session, submission, person_id, steps, total_before)
        sheets += _sheet(session, submission)
        plans += plan_again(session, submission) if work.outcome else []
    return len(sheets), sheets + plans


def undo(
    session: Session, assignment_id: int, person_id: int, why: str, shown: int | None = None
) -> tuple[Trial, list[Job]]:
    """Take the last marking again back, in one transaction; the one before it is the last then.

    Points and comments that a teacher gave since stay as they are.

    Parameters
    ----------
    shown
        The trial that was shown as the last, so that a form sent twice takes one back; None: whichever is the last.

    Raises
    ------
    NotChanged
        No reason, there is nothing to take back, or what was shown is not the last any more.
    """
    session.execute(select(Assignment.id).where(Assignment.id == assignment_id).with_for_update())  # one at a time
    last = next(iter(standing(session, assignment_id)), None)
    if last is None:
        raise NotChanged(_("There is nothing to take back."))
    if shown is not None and shown != last.id:
        raise NotChanged(
            _("That marking is not the last any more: it was taken back, or the class was marked once more.")
        )
    trial, reason, jobs = _locked(session, last.id), _reason(why), list[Job]()
    trial.undone_at = now()
    for work, submission in _works(session, trial):
        if work.version_before_id is None:
            continue
        before, total_before = marks_now(submission), submission.total
        _put(session, submission, work.version_before_id, work.outcome_before)
        keep(session, submission, person_id, _steps(before, marks_now(submission), "taken back", reason), total_before)
        jobs += _sheet(session, submission)
        jobs += plan_again(session, submission) if work.outcome_before else []
    return trial, jobs


def standing(session: Session, assignment_id: int) -> Sequence[Trial]:
    """The markings again that still stand, the last first: they are taken back in this order, one at a time."""
    found = select(Trial).where(
        Trial.assignment_id == assignment_id, Trial.marked_again_at.is_not(None), Trial.undone_at.is_(None)
    )
    return session.scalars(found.order_by(Trial.marked_again_at.desc(), Trial.id.desc())).all()


def _follow(session: Session, assignment: Assignment, old: Version, trial: Trial) -> None:
    """What of an assignment comes from its brief and rubric, where they change it."""
    brief, rubric, zone = brief_of(trial), rubric_of(trial), the_school(session).zone
    assignment.opens, assignment.due = dates_by(brief, assignment, zone)
    if assignment.title == brief_of(old).title:
        assignment.title = brief.title[:200]
    if rubric.release != rubric_of(old).release:
        assignment.release_by_hand = rubric.release == "by hand"


def _put(session: Session, submission: Submission, version_id: int, outcome: dict[str, object] | None) -> None:
    """Marks under another version, with all that a teacher gave."""
    submission.version_id = version_id
    submission.version = session.get_one(Version, version_id)
    if outcome is not None:
        keep_outcome(submission, outcome)
    submission.on_board = may_stand_on_board(submission)
    total_up(submission)


def _steps(before: Marks, after: Marks, what: str, why: str) -> list[Step]:
    """One for each criterion whose points moved; where none did, one that the student is not told."""
    moved = [row for row in differences(before, after) if row.differs]
    with speaking(ENGLISH):
        steps = [Step(what, row.name, side(row.before), side(row.after), why) for row in moved]
    if not steps and before.total != after.total:
        return [Step(what, why=why)]
    return steps or [Step(what, why=why, silent=True)]


def _sheet(session: Session, submission: Submission) -> list[Job]:
    return [] if submission.held else [open_job(session, PRINT, submission.id)]


def _works(session: Session, trial: Trial) -> Iterator[tuple[TrialWork, Submission]]:
    """The attempts of a trial that are marked, each locked until the end."""
    by_id = {work.submission_id: work for work in trial.works if work.submission_id is not None}
    wanted = select(Submission).where(Submission.id.in_(by_id), Submission.state == MARKED)
    for submission in session.scalars(wanted.order_by(Submission.id).with_for_update()).all():
        yield by_id[submission.id], submission


def _locked(session: Session, trial_id: int) -> Trial:
    trial = session.scalars(select(Trial).where(Trial.id == trial_id).with_for_update()).one()
    session.execute(select(Assignment.id).where(Assignment.id == trial.assignment_id).with_for_update())
    return trial


def _reason(why: str) -> str:
    text = " ".join(why.split())
    if not text:
        raise NotChanged(_("Write why. The reason is kept, and students read it."))
    if len(text) > LONGEST_WHY:
        raise NotChanged(_("The reason is over {most} letters. Shorten it.", most=LONGEST_WHY))
    return text
