"""The marks of a submission as they stand now: the rubric, what was measured, what the teacher judged."""

from __future__ import annotations

from rubric.criteria.common import Judged
from rubric.evidence import Evidence
from rubric.marking import Marks, mark
from rubric.rubrics import Rubric
from service.records.models import Submission


def marks_now(submission: Submission) -> Marks:
    """Every criterion with the teacher's own points in it.

    The outcome keeps what the worker said; measures do not change, so marking them again gives
    the same points for everything that is computed.

    Raises
    ------
    ValueError
        Where the submission was not marked yet.
    """
    if submission.outcome is None:
        raise ValueError("a submission without an outcome has no marks")
    rubric = Rubric.model_validate(submission.version.rubric)
    return mark(rubric, evidence_of(submission), judgements_of(submission))


def evidence_of(submission: Submission) -> Evidence:
    """What the marks of a submission rest on."""
    outcome = submission.outcome or {}
    return Evidence(measures=outcome.get("measures", {}), working=outcome.get("working", {}))


def judgements_of(submission: Submission) -> dict[str, Judged]:
    """What the teacher gave so far, by name of the criterion."""
    return {name: Judged.model_validate(given) for name, given in submission.judgements.items()}


def total_up(submission: Submission) -> None:
    """Bring the columns that lists are made from in line with :func:`marks_now`."""
    marks = marks_now(submission)
    submission.total, submission.out_of, submission.waiting_points = marks.total, marks.out_of, marks.waiting
