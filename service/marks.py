"""The marks of a submission as they stand now: the rubric, what is known, what the teacher gave."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from rubric.criteria.common import Judged
from rubric.evidence import Evidence
from rubric.marking import Marks, mark
from rubric.rubrics import Rubric
from service.records.models import Submission


def marks_now(submission: Submission) -> Marks:
    """Every criterion with the teacher's own points and corrections in it.

    The outcome keeps what the worker said; measures do not change, so marking them again gives
    the same points for everything that is computed.

    Raises
    ------
    ValueError
        Where the submission was not marked yet.
    """
    return _marks(submission, judged(submission.corrections))


def marks_without_places(submission: Submission) -> Marks:
    """The marks as they stand before any place is settled."""
    known = evidence_of(submission).model_copy(update={"places": {}})
    return mark(_rubric(submission), known, judgements_of(submission), judged(submission.corrections))


def marks_computed(submission: Submission) -> Marks:
    """The same without corrections: what each criterion would earn if they were taken back."""
    return _marks(submission, {})


def evidence_of(submission: Submission) -> Evidence:
    """What the marks of a submission rest on."""
    return evidence_from(submission.outcome or {}, submission, submission.version.due)


def evidence_from(outcome: Mapping[str, Any], submission: Submission, due: datetime | None) -> Evidence:
    """The same for another outcome and another due date (UTC), over which a student's own extension goes."""
    due = submission.extension.due if submission.extension else due
    late_s = (submission.handed_in - due).total_seconds() if due else 0.0
    return Evidence.model_validate(
        {
            "measures": outcome.get("measures", {}),
            "working": outcome.get("working", {}),
            "places": submission.places or {},
            "minutes_late": max(0.0, late_s / 60),
        }
    )


def keep_outcome(submission: Submission, outcome: dict[str, Any]) -> None:
    """Put an outcome in place, with the columns that lists are made from; points follow with :func:`total_up`."""
    analysis = outcome["analysis"] or {}
    submission.outcome = outcome
    submission.efficiency = analysis.get("efficiency")
    submission.has_mistakes = bool(outcome["mistakes"])
    submission.stable = analysis["state"] == "stable" if analysis else None
    submission.on_board = outcome["on_board"]


def may_stand_on_board(submission: Submission) -> bool:
    """Whether what is recorded of a bridge puts it on a leaderboard under the version that it is marked under."""
    analysis = (submission.outcome or {}).get("analysis") or {}
    keeps = analysis.get("state") == "stable" and not analysis["limits_broken"] and bool(analysis["efficiency"])
    return keeps and not submission.version.brief.get("problem") and marks_now(submission).on_board


def judgements_of(submission: Submission) -> dict[str, Judged]:
    """What the teacher gave so far, by name of the criterion."""
    return judged(submission.judgements)


def judged(kept: Mapping[str, Any] | None) -> dict[str, Judged]:
    """Judgements or corrections as the tables keep them, as values."""
    return {name: Judged.model_validate(given) for name, given in (kept or {}).items()}


def total_up(submission: Submission) -> None:
    """Bring the columns that lists are made from in line with :func:`marks_now`."""
    marks = marks_now(submission)
    submission.total, submission.out_of, submission.waiting_points = marks.total, marks.out_of, marks.waiting
    submission.total_without_places = marks_without_places(submission).total if submission.places else marks.total


def _marks(submission: Submission, corrections: Mapping[str, Judged]) -> Marks:
    if submission.outcome is None:
        raise ValueError("a submission without an outcome has no marks")
    return mark(_rubric(submission), evidence_of(submission), judgements_of(submission), corrections)


def _rubric(submission: Submission) -> Rubric:
    return Rubric.model_validate(submission.version.rubric)
