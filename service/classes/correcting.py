"""What a teacher puts in place of computed points, and says about the work.

Every correction needs a reason, and so does taking one back.  Points of criteria that no
computation judges are given in :mod:`service.classes.judging`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy.orm import Session

from rubric.criteria.common import Criterion, Judged
from rubric.criteria.judgement import Judgement
from rubric.language import _
from rubric.marking import Marks
from rubric.messages.names import PRINT
from service.classes.history import CORRECTED, Step, given, keep
from service.classes.judging import (
    LONGEST_COMMENT,
    NotJudged,
    comment_too_long,
    lock_marked,
    points_typed,
    reason_too_long,
)
from service.classes.setting import rubric_of
from service.jobs import open_job
from service.kept_words import COMMENT
from service.marks import judged, marks_computed, marks_now, total_up
from service.records.models import Job, Submission, Version

WHOLE = ""
"""The name under which the comment on the whole is kept."""


@dataclass(frozen=True)
class Line:
    """One criterion on the page that corrects."""

    number: int
    name: str
    seen: str
    of: str
    """What stands behind points: ``of 10``."""
    bounds: tuple[float, float]
    computed: float | None
    correction: Judged | None
    comment: str


@dataclass(frozen=True)
class Printed:
    """One criterion on paper, whoever judges it."""

    name: str
    seen: str
    of: str
    computed: float | None
    by_hand: bool
    """Whether no computation judges it."""
    given: Judged | None
    """A teacher's points, with the reason."""
    comment: str


@dataclass(frozen=True)
class _Typed:
    """What one saving asks for."""

    corrections: dict[str, Judged]
    comments: dict[str, str]
    whys: dict[str, str]
    """By criterion: why its points change."""


def can_correct(version: Version) -> tuple[tuple[int, Criterion], ...]:
    """The criteria that are computed, each with its place in the rubric."""
    criteria = enumerate(rubric_of(version).criteria)
    return tuple((number, found) for number, found in criteria if not isinstance(found, Judgement))


def lines(submission: Submission) -> list[Line]:
    """What the page shows for each criterion."""
    computed, corrections = marks_computed(submission), judged(submission.corrections)
    return [
        Line(
            number=number,
            name=criterion.name,
            seen=computed.criteria[number].seen,
            of=computed.criteria[number].of,
            bounds=criterion.bounds,
            computed=computed.criteria[number].points,
            correction=corrections.get(criterion.name),
            comment=submission.comments.get(criterion.name, ""),
        )
        for number, criterion in can_correct(submission.version)
    ]


def printed(submission: Submission) -> list[Printed]:
    """Every criterion in the order of the rubric, with what was computed and what a teacher gave."""
    computed = marks_computed(submission)
    own = judged(submission.corrections) | judged(submission.judgements)
    return [
        Printed(
            name=criterion.name,
            seen=criterion.look_for if isinstance(criterion, Judgement) else mark.seen,
            of=mark.of,
            computed=mark.points,
            by_hand=isinstance(criterion, Judgement),
            given=own.get(criterion.name),
            comment=submission.comments.get(criterion.name, ""),
        )
        for criterion, mark in zip(rubric_of(submission.version).criteria, computed.criteria, strict=True)
    ]


def correct(session: Session, submission_id: int, person_id: int, form: Mapping[str, str]) -> tuple[bool, Job | None]:
    """Keep what a teacher typed; whether anything changed, and the job of a new sheet.

    Raises
    ------
    NotJudged
        Not marked yet, points that are no number or out of range, a reason that is missing, or
        a text that is too long.
    """
    submission = lock_marked(session, submission_id)
    typed = _read(submission, form)
    before, total_before = marks_now(submission), submission.total
    comments_before = dict(submission.comments)
    submission.corrections = {name: one.model_dump() for name, one in typed.corrections.items()}
    submission.comments = typed.comments
    total_up(submission)
    steps = _steps(typed, before, marks_now(submission)) + _comment_steps(comments_before, typed.comments)
    if not steps:
        return False, None
    keep(session, submission, person_id, steps, total_before)
    return True, None if submission.held else open_job(session, PRINT, submission.id)


def _read(submission: Submission, form: Mapping[str, str]) -> _Typed:
    """What is asked for; a field that is not in the form leaves what it stands for as it is."""
    corrections, whys = judged(submission.corrections), dict[str, str]()
    comments = dict(submission.comments)
    for number, criterion in can_correct(submission.version):
        name, why = criterion.name, _text(form, f"why-{number}", reason_too_long(criterion.name))
        old = corrections.get(name)
        typed = form.get(f"points-{number}", f"{old.points:g}" if old else "").strip()
        wanted = _wanted(typed, criterion, old, why)
        if wanted != old:
            whys[name] = why
        corrections.pop(name, None)
        if wanted is not None:
            corrections[name] = wanted
        if f"comment-{number}" in form:
            comments[name] = _text(form, f"comment-{number}", comment_too_long(name))
    if "comment" in form:
        long = _("The comment on the whole is over {most} letters. Shorten it.", most=LONGEST_COMMENT)
        comments[WHOLE] = _text(form, "comment", long)
    return _Typed(corrections, {name: text for name, text in comments.items() if text}, whys)


def _wanted(typed: str, criterion: Criterion, old: Judged | None, why: str) -> Judged | None:
    """The correction that a field asks for: none, the old one, or a new one with its reason."""
    points = points_typed(typed, criterion) if typed else None
    if points is None and old is None:
        if why:
            raise NotJudged(
                _(
                    "'{criterion}' has a reason and no points. Write the points it shall earn.",
                    criterion=criterion.name,
                )
            )
        return None
    if old is not None and points == old.points and not why:
        return old
    if not why:
        said = (
            _("Write why you take the correction back of '{criterion}'. The student reads the reason.")
            if points is None
            else _("Write why you change the points of '{criterion}'. The student reads the reason.")
        )
        raise NotJudged(said.format(criterion=criterion.name))
    return None if points is None else Judged(points=points, comment=why)


def _text(form: Mapping[str, str], field: str, too_long: str) -> str:
    text = " ".join(form.get(field, "").split())
    if len(text) > LONGEST_COMMENT:
        raise NotJudged(too_long)
    return text


def _steps(typed: _Typed, before: Marks, after: Marks) -> list[Step]:
    was = {one.name: one for one in before.criteria}
    now = {one.name: one for one in after.criteria}
    return [
        Step(
            what=CORRECTED if name in typed.corrections else "correction taken back",
            criterion=name,
            before=given(was[name].points),
            after=given(now[name].points),
            why=why,
        )
        for name, why in typed.whys.items()
    ]


def _comment_steps(before: Mapping[str, str], after: Mapping[str, str]) -> list[Step]:
    names = [name for name in {**before, **after} if before.get(name, "") != after.get(name, "")]
    return [Step(COMMENT, name, before=before.get(name, ""), after=after.get(name, ""), silent=True) for name in names]
