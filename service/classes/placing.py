"""Places in the class or the contest, settled when marks are released.

An attempt is compared with the attempts that count of all other students, released or not, so its
place does not depend on who is released first.  Who is level shares a place.  A place that was
given stays, until a teacher has it settled anew.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from sqlalchemy.orm import Session

from rubric import evidence
from rubric.criteria.place import Place
from rubric.measures import CATALOGUE
from rubric.ranking import as_shown
from rubric.rubrics import Rubric
from rubric.rules.attempts import Attempts
from rubric.wording import plain_figure
from service.classes.setting import rubric_of
from service.records import queries
from service.records.models import Assignment, Submission
from service.records.queries import Entrant


def places_of(rubric: Rubric) -> list[Place]:
    """The criteria that give points for places."""
    return [criterion for criterion in rubric.criteria if isinstance(criterion, Place)]


def has_places(rubric: Rubric) -> bool:
    """Whether any criterion does."""
    return bool(places_of(rubric))


def settle(
    session: Session, submissions: Sequence[Submission], *, anew: bool = False
) -> list[dict[str, evidence.Place]]:
    """The places of marked attempts that are to be settled now, of each by name of the criterion."""
    known: dict[tuple[int, str, str], list[Entrant]] = {}

    def compared(submission: Submission, criterion: Place) -> list[Entrant]:
        key = (submission.assignment_id, criterion.among, criterion.by)
        if key not in known:
            known[key] = _entrants(session, submission.assignment, criterion)
        return [one for one in known[key] if one.student_id != submission.student_id]

    return [
        {
            criterion.name: place_among(value, compared(submission, criterion), criterion.by)
            for criterion in places_of(rubric_of(submission.version))
            if (value := _measured(submission, criterion.by)) is not None
            and (anew or criterion.name not in submission.places)
        }
        for submission in submissions
    ]


def _measured(submission: Submission, measure: str) -> float | None:
    value: float | None = (submission.outcome or {}).get("measures", {}).get(measure)
    return value


def place_among(value: float, others: Iterable[Entrant], measure: str) -> evidence.Place:
    """Where a value stands among the others that have one."""
    mine = _shown(value, measure)
    values = [_shown(one.value, measure) for one in others if one.value is not None]
    more_is_better = CATALOGUE[measure].more_is_better
    better = sum(one > mine if more_is_better else one < mine for one in values)
    return evidence.Place(place=1 + better, of=1 + len(values))


def _entrants(session: Session, assignment: Assignment, criterion: Place) -> list[Entrant]:
    """Of each student the attempt that counts, by the marks before any place is settled."""
    together = [assignment]
    if criterion.among == "contest" and assignment.contest is not None:
        together = queries.assignments_of(session, assignment.contest.id)
    return [
        entrant
        for one in together
        for entrant in counting(queries.entrants(session, one.id, criterion.by), rubric_of(one.newest).attempts)
    ]


def counting(entrants: Sequence[Entrant], rule: Attempts) -> list[Entrant]:
    """Of each student the attempt that counts."""
    by_student: dict[int, list[Entrant]] = defaultdict(list)
    for entrant in entrants:
        by_student[entrant.student_id].append(entrant)
    chosen = ((own, rule.counting([one.total for one in own])) for own in by_student.values())
    return [own[place] for own, place in chosen if place is not None]


def _shown(value: float, measure: str) -> float:
    """The value as pages show it: what looks equal is equal."""
    return as_shown(value) if measure == "efficiency" else float(plain_figure(value))
