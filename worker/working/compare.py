"""Truss, solution and what the teacher asks -> one answer for each thing asked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from rubric.criteria.working import Working as Criterion
from rubric.evidence import Answer, Verdict
from rubric.language import _
from worker.statics import Solution
from worker.truss.model import Truss
from worker.working.balance import equations
from worker.working.follow import Followed, follow
from worker.working.reading import Reading, read, read_sense
from worker.working.sentences import said, sense_said
from worker.working.sheet import Entry, sheet

NO_ZEROS = "zero members"
"""The answer's name where a truss has no zero members, and just this was to be seen."""


def compare(truss: Truss, solution: Solution, criterion: Criterion) -> tuple[Answer, ...]:
    """Each answer asked for, in an order in which it can be worked out; nothing for a truss that can move.

    Reactions are asked for where they are not nought; a member without force counts as named when 0 is
    written for it or it stands in the list of zero members.
    """
    if solution.state != "stable" or any(len(place) != 2 for place in truss.joints.values()):
        return ()
    using = equations(truss, solution)
    entries = sheet(truss, solution, using)
    readings = {entry.name: read(entry, criterion) for entry in entries}
    followed = follow(truss, solution, entries, readings, using, criterion)
    answers = [
        _answer(entry, readings[entry.name], followed, criterion, truss)
        if entry.is_reaction or "senses" not in criterion.asks
        else _by_sense(entry)
        for entry in entries
        if _asked(entry, criterion)
    ]
    return tuple(answers) or tuple(_no_zeros(truss, criterion))


def by_hand(truss: Truss, solution: Solution) -> tuple[Answer, ...]:
    """What was written, compared although no rubric asks for it; what was left out is not missed."""
    working = truss.working
    if working is None:
        return ()
    asks = ["reactions"] if working.reactions else []
    if any(force.force_N for force in working.forces.values()):
        asks.append("forces")
    elif any(force.sense for force in working.forces.values()):
        asks.append("senses")
    elif working.forces or working.zeros is not None:
        asks.append("zero members")
    if not asks:
        return ()
    criterion = Criterion.model_validate({"name": "Your working", "kind": "working", "asks": asks, "points": 1})
    return tuple(answer for answer in compare(truss, solution, criterion) if answer.verdict != "left out")


def _asked(entry: Entry, criterion: Criterion) -> bool:
    if entry.is_reaction:
        return "reactions" in criterion.asks and bool(entry.true_N or entry.given_N)
    if "forces" in criterion.asks or "senses" in criterion.asks:
        return True
    claimed = entry.given_N == 0
    return "zero members" in criterion.asks and (not entry.true_N or claimed)


def _about(entry: Entry, criterion: Criterion) -> Literal["reaction", "force", "zero"]:
    if entry.is_reaction:
        return "reaction"
    return "force" if entry.true_N and criterion.asks != ("zero members",) else "zero"


def _answer(entry: Entry, reading: Reading, followed: Followed, criterion: Criterion, truss: Truss) -> Answer:
    verdict = _verdict(entry, reading, followed, criterion)
    cause = followed.told.get(entry.name, "")
    return Answer(
        about=_about(entry, criterion),
        name=entry.name,
        given=entry.written.said if entry.written else "",
        given_N=entry.given_N,
        true_N=entry.true_N,
        verdict=verdict,
        said=said(entry, verdict, reading, followed.settled.get(entry.name), cause, truss),
    )


def _verdict(entry: Entry, reading: Reading, followed: Followed, criterion: Criterion) -> Verdict:
    """Where an answer follows and can be read otherwise too, the reading that earns more counts."""
    if reading.verdict in ("right", "rounded") or entry.given_N is None or not followed.follows(entry.name):
        return reading.verdict
    more: Sequence[Verdict] = ("follows", reading.verdict)
    return max(more, key=criterion.part)


def _by_sense(entry: Entry) -> Answer:
    verdict = read_sense(entry).verdict
    return Answer(
        about="force" if entry.true_N else "zero",
        name=entry.name,
        given=entry.written.said if entry.written else "",
        given_N=entry.given_N,
        true_N=entry.true_N,
        verdict=verdict,
        said=sense_said(entry, verdict),
    )


def _no_zeros(truss: Truss, criterion: Criterion) -> Iterator[Answer]:
    """A truss without zero members, and 'none' to be said of it."""
    if "zero members" in criterion.asks:
        seen = truss.working is not None and truss.working.zeros == ()
        yield Answer(
            about="zero",
            name=NO_ZEROS,
            given="none" if seen else "",
            given_N=None,
            true_N=0.0,
            verdict="right" if seen else "left out",
            said=_("Right: there are none here.") if seen else _("You left this out: there are none here."),
        )
