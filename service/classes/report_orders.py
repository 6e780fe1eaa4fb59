"""The order of a class report: the class as it stands, as values that a worker sets.

The same rows, marks and counts as the pages show: nothing is worked out here that they do not say.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session, undefer

from rubric.brief import Brief
from rubric.language import _
from rubric.messages.outcomes import Analysis, Marked
from rubric.messages.report import CriterionLine, FailingLine, MistakeLine, PupilLine, ReportHead, ReportOrder, Stage
from rubric.wording import SHORT_MODES, figure
from service.classes import class_rows, insight
from service.classes.overview import Row
from service.classes.questions import questions
from service.classes.setting import rubric_of
from service.marks import marks_now
from service.records import queries
from service.records.models import NOT_MARKED, Assignment, Job, Person, Submission
from service.records.report_models import ClassReport
from service.saying import here, long_moment_said

MOST_MISTAKES, MOST_FAILING = 8, 8
"""Kinds of mistakes and of failures that are told."""


@dataclass(frozen=True)
class Work:
    """An attempt that counts, as the order needs it."""

    student_id: int
    seen: insight.Seen

    @property
    def analysis(self) -> Analysis | None:
        """The truss as solved."""
        return self.seen.outcome.analysis


def report_order(session: Session, job: Job) -> ReportOrder | None:
    """All that a worker needs; None where the assignment or the request is gone."""
    wanted = session.get(ClassReport, job.subject_id)
    if wanted is None:
        return None
    found = session.get_one(Assignment, wanted.assignment_id)
    rows = class_rows.full(session, class_rows.heads(session, found, rubric_of(found.newest).attempts))
    works = _works(session, [row.counts.id for row in rows if row.counts])
    brief = Brief.model_validate(found.newest.brief)
    by_student = {work.student_id: work for work in works}
    seen = [work.seen for work in works]
    return ReportOrder(
        job=job.id,
        attempt=job.attempt,
        head=_head(session, job, wanted, found, brief),
        out_of=rubric_of(found.newest).full,
        bridges=brief.problem is None,
        pupils=tuple(_pupil(row, by_student.get(row.student.id), brief.problem is None) for row in rows),
        criteria=tuple(_criterion(one) for one in insight.spreads(seen)),
        questions=tuple((one.found, one.ask) for one in questions(seen)),
        failing=tuple(_failing(works)) if brief.problem is None else (),
        mistakes=_mistakes(session, found, [row.student.id for row in rows]),
    )


def _works(session: Session, submission_ids: Sequence[int]) -> list[Work]:
    """The attempts with these numbers, in the order in which they were handed in."""
    known = select(Submission).where(Submission.id.in_(submission_ids), Submission.outcome.is_not(None))
    found = session.scalars(known.options(undefer(Submission.outcome)).order_by(Submission.id))
    return [
        Work(one.student_id, insight.Seen(marks_now(one), Marked.model_validate(_plain(one.outcome or {}))))
        for one in found
    ]


def _plain(outcome: dict[str, object]) -> dict[str, object]:
    """An outcome without its drawings, which weigh most."""
    return outcome | {"told": None, "drawing": None}


def _head(session: Session, job: Job, wanted: ClassReport, found: Assignment, brief: Brief) -> ReportHead:
    school = queries.school(session)
    return ReportHead.model_validate(
        {
            "school": school.name if school else "",
            "class_name": found.school_class.name,
            "title": found.title,
            "task": _task(brief),
            "made": long_moment_said(here(job.created_at, school.zone if school else "UTC")),
            "made_for": session.get_one(Person, wanted.by_id).name,
            "paper": wanted.paper,
        }
    )


def _task(brief: Brief) -> str:
    """What is asked, in a line."""
    sizes = _("Span {span} mm, target load {load} N.", span=figure(brief.span_mm, 4), load=figure(brief.load.target_N))
    return " ".join(text for text in (brief.task, None if brief.problem else sizes) if text)


def _pupil(row: Row, work: Work | None, bridges: bool) -> PupilLine:
    counts, analysis = row.counts, work.analysis if work and bridges else None
    first = analysis.first_failure if analysis else None
    return PupilLine(
        name=row.student.name,
        attempts=row.attempts,
        stage=_stage(row, bridges),
        points=counts.total if counts else None,
        out_of=counts.out_of if counts else None,
        waiting=(counts.waiting_points or 0.0) if counts else 0.0,
        held=counts is not None and counts.held,
        late=row.late,
        efficiency=analysis.efficiency if analysis else None,
        best_efficiency=row.best_efficiency if bridges else None,
        load_N=analysis.failure_load_N if analysis else None,
        mass_g=analysis.mass_g if analysis else None,
        first_member=first.member if first else "",
        first_mode=_(SHORT_MODES[first.mode]) if first else "",
    )


def _stage(row: Row, bridges: bool) -> Stage:
    """How far the attempt that counts is; of a pupil of whom none counts, the newest."""
    if row.newest is None:
        return "not started"
    if row.counts is None:
        return "failed" if row.newest.state == NOT_MARKED else "waiting"
    if row.counts.has_mistakes:
        return "mistakes"
    if row.counts.stable is False:
        return "mechanism"
    return "stands" if bridges else "solved"


def _criterion(spread: insight.Spread) -> CriterionLine:
    return CriterionLine(
        name=spread.name, out_of=spread.out_of, mean=spread.mean, marked=spread.marked, waiting=spread.waiting
    )


def _failing(works: Sequence[Work]) -> Iterator[FailingLine]:
    known = insight.failures([work.analysis for work in works if work.analysis])
    for one in [failing for failing in known if failing.first][:MOST_FAILING]:
        yield FailingLine(part=_(one.part), mode=_(SHORT_MODES[one.mode]), bridges=one.first)


def _mistakes(session: Session, found: Assignment, students: Sequence[int]) -> tuple[MistakeLine, ...]:
    """What most pupils did not know of a file, of all attempts; a pupil counts once for each kind of mistake."""
    rows = session.execute(
        select(Submission.student_id, Submission.outcome).where(
            Submission.assignment_id == found.id, Submission.has_mistakes, Submission.outcome.is_not(None)
        )
    )
    here_now = set(students)
    kinds = {
        (student, _kind(mistake["expected"]))
        for student, outcome in rows
        if student in here_now
        for mistake in (outcome or {})["mistakes"]
    }
    told = sorted(Counter(kind for _student, kind in kinds).items(), key=lambda pair: (-pair[1], pair[0]))
    return tuple(MistakeLine(expected=kind, pupils=count) for kind, count in told[:MOST_MISTAKES])


def _kind(expected: str) -> str:
    """What was expected without what stands in brackets after it, which tells of one file alone."""
    return expected.partition(" (")[0]
