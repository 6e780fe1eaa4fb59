"""The page of alike work: pairs that a teacher should look at.  For teachers alone, and never part of a mark."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from flask import Blueprint, abort, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response as Redirect

from rubric.language import _, later
from rubric.messages.likeness import Pair
from rubric.messages.names import COMPARE
from rubric.messages.outcomes import Compared
from service import web
from service.jobs import open_job
from service.people.guards import staff_only
from service.records import queries
from service.records.comparing import ComparedLine, compared
from service.records.models import Assignment, Person

pages = Blueprint("alike", __name__)

LIKENESS_SAID = (
    (0.999, later("The bridges are the same, but for names, sticks or size.")),
    (0.85, later("The bridges are nearly the same.")),
    (0.7, later("The bridges are very much alike.")),
    (0.0, later("The bridges are partly the same.")),
)

RARITY_SAID = (
    (25.0, later("So many choices agree that chance is hardly an explanation.")),
    (10.0, later("Many choices agree. Chance is a poor explanation.")),
    (0.0, later("Some choices agree. It may be chance, so look closely.")),
)
"""From how many bits of evidence on a sentence is said."""

WEAK_BITS = 10.0
"""Below it, pairs come about by chance now and then where hundreds of works are compared: told after the others."""


@dataclass(frozen=True)
class PairLine:
    """Two works as the page shows them; ``first`` was handed in first."""

    first: ComparedLine
    other: ComparedLine
    percent: int
    likeness: str
    rarity: str
    turned: bool
    weak: bool


@dataclass(frozen=True)
class SharedLine:
    """Works of many students of the class that are all alike."""

    students: tuple[ComparedLine, ...]


@pages.get("/staff/assignments/<int:assignment_id>/alike")
@staff_only
def look(assignment_id: int) -> str:
    """What was found when it was last looked for."""
    found = _found(assignment_id)
    session = web.reading()
    told = Compared.model_validate(found.alike) if found.alike else None
    pairs, shared = told_lines(told, works_of(told, web.person())) if told else ((), ())
    return render_template(
        "alike.html",
        assignment=found,
        told=told,
        pairs=pairs,
        shared=shared,
        job=queries.job_state(session, COMPARE, found.id),
    )


@pages.post("/staff/assignments/<int:assignment_id>/alike")
@staff_only
def look_again(assignment_id: int) -> Redirect:
    """Have a worker look for work that is alike."""
    found = _found(assignment_id)
    with web.writing() as session:
        job = open_job(session, COMPARE, found.id)
    web.send(job)
    flash(_("Looking. This takes some seconds."))
    return redirect(url_for("alike.look", assignment_id=found.id), 303)


def told_lines(
    told: Compared, works: Mapping[int, ComparedLine]
) -> tuple[tuple[PairLine, ...], tuple[SharedLine, ...]]:
    """Pairs and groups in words, without works that are gone."""
    pairs = tuple(_pair(pair, works) for pair in told.pairs if pair.one in works and pair.other in works)
    groups = ([works[one] for one in group.submissions if one in works] for group in told.shared)
    return pairs, tuple(_group(group) for group in groups if len(group) > 1)


def said(table: Sequence[tuple[float, str]], value: float) -> str:
    """The words of the first row that a value reaches."""
    return next(_(words) for least, words in table if value >= least)


def _pair(pair: Pair, works: Mapping[int, ComparedLine]) -> PairLine:
    first, other = sorted((works[pair.one], works[pair.other]), key=lambda line: (line.handed_in, line.id))
    return PairLine(
        first=first,
        other=other,
        percent=int(100 * pair.likeness),
        likeness=said(LIKENESS_SAID, pair.likeness),
        rarity=said(RARITY_SAID, pair.bits),
        turned=pair.turned,
        weak=pair.bits < WEAK_BITS,
    )


def _group(works: Sequence[ComparedLine]) -> SharedLine:
    """One work of each student, the first, by name."""
    first = {line.student_id: line for line in sorted(works, key=lambda line: (line.handed_in, line.id), reverse=True)}
    return SharedLine(tuple(sorted(first.values(), key=lambda line: (line.student or "", line.id))))


def works_of(told: Compared, person: Person) -> dict[int, ComparedLine]:
    """The works that were found alike, as far as they are there."""
    pairs = [number for pair in told.pairs for number in (pair.one, pair.other)]
    groups = [number for group in told.shared for number in group.submissions]
    return compared(web.reading(), person, [*pairs, *groups])


def _found(assignment_id: int) -> Assignment:
    return queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)
