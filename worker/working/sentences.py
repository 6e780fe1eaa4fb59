"""What a student is told of one answer: what was written, what holds, where to look."""

from __future__ import annotations

import math

from rubric.evidence import Verdict
from rubric.wording import figure, listed
from worker.truss.model import Truss
from worker.working.balance import MIRROR, WHOLE
from worker.working.follow import UNITS, Settled
from worker.working.reading import Reading
from worker.working.sheet import Entry

_DIRECTIONS = {"x": ("right", "left"), "y": ("up", "down")}
MOST_SLIPS = 3
"""Slips named in one sentence."""


def force_said(entry: Entry, value_N: float, truss: Truss) -> str:
    """``80 N C``, ``50 N up`` or ``0 N``, in the unit of the file."""
    size = figure(abs(value_N) / truss.newtons_per_force)
    if size == "0":
        return f"0 {truss.force_unit}"
    positive, negative = _DIRECTIONS[entry.name[-1]] if entry.is_reaction else ("T", "C")
    return f"{size} {truss.force_unit} {positive if value_N > 0 else negative}"


def said(entry: Entry, verdict: Verdict, reading: Reading, settled: Settled | None, cause: str, truss: Truss) -> str:
    """The sentences for one answer; ``cause`` is what its slip tells of others."""
    holds = force_said(entry, entry.true_N, truss)
    wrote = f"You wrote {entry.written.said}." if entry.written else ""
    match verdict:
        case "left out":
            return f"You left this out. It is {holds}."
        case "right":
            return f"Right: it is {holds}."
        case "follows":
            assert settled is not None
            return f"It should be {holds}. {_follows(entry, settled)}"
        case "rounded":
            return f"{wrote} It is {holds}: keep three figures."
        case "unit":
            return f"{wrote} It is {holds}. {reading.unit.told if reading.unit else ''}".rstrip()
        case "sense":
            return f"{wrote} {_sense(entry, holds)} {cause or _look(entry)}".rstrip()
    return f"{wrote} {_wrong(entry, holds)} {cause or _look(entry)}".rstrip()


def sense_said(entry: Entry, verdict: Verdict) -> str:
    """The sentences where T, C or 0 alone is asked for."""
    true = "0" if not entry.true_N else "T" if entry.true_N > 0 else "C"
    means = {
        "T": "T: the member is pulled",
        "C": "C: the member is pushed",
        "0": "0: no force runs through the member",
    }[true]
    if verdict == "left out":
        return f"You left this out. It is {means}."
    if verdict == "right":
        return f"Right: it is {means}."
    assert entry.written is not None
    return f"You wrote {_letter(entry)}. It is {means}. {_look(entry)}".rstrip()


def _letter(entry: Entry) -> str:
    assert entry.written is not None
    return {1.0: "T", -1.0: "C"}.get(entry.written.sense, "0")


def _follows(entry: Entry, settled: Settled) -> str:
    wrote = entry.written.said if entry.written else ""
    if settled.where == UNITS:
        return f"Your {wrote} has the same slip of units as {named(settled.slips[0])}."
    if settled.where == MIRROR:
        leads = f"Your {wrote} matches your answer on the other side"
    elif settled.where == WHOLE:
        leads = f"Your other reactions lead to your {wrote}"
    else:
        leads = f"At joint {settled.where} your own forces lead to your {wrote}"
    if not settled.slips:
        return f"{leads}, so small differences added up there."
    return f"{leads}, so the slip came earlier, in {listed([named(slip) for slip in settled.slips[:MOST_SLIPS]])}."


def named(name: str) -> str:
    """``a-b`` as it is, ``a y`` in words."""
    joint, _, axis = name.partition(" ")
    return f"the reaction at {joint}" if axis else name


def _sense(entry: Entry, holds: str) -> str:
    given = entry.given_N
    if given is None:
        return f"That is right, and its size is missing: it is {holds}."
    word = "direction" if entry.is_reaction else "sense"
    ratio = given / entry.true_N
    for factor, words in ((2.0, " You have just twice as much."), (0.5, " You have just half of it.")):
        if math.isclose(ratio, factor, rel_tol=0.005):
            return f"The {word} is right, but it is {holds}.{words}"
    return f"The {word} is right, but it is {holds}."


def _wrong(entry: Entry, holds: str) -> str:
    assert entry.written is not None
    given = entry.given_N
    if not entry.true_N:
        return "But nothing pushes or pulls there: it is 0." if entry.is_reaction else "But it is a zero member: 0."
    if given == 0:
        return f"But it is not 0: it is {holds}."
    if entry.is_reaction:
        return f"It is the other way: {holds}."
    pull = "pulled" if entry.true_N > 0 else "pushed"
    size = given is not None and math.isclose(abs(given), abs(entry.true_N), rel_tol=0.02)
    return f"{'The size is right, but the' if size else 'The'} member is {pull}: it is {holds}."


def _look(entry: Entry) -> str:
    if entry.is_reaction:
        return (
            "Look at the moments about the other support." if entry.name.endswith("y") else "Look at all forces across."
        )
    return f"Look at joint {entry.joint} again."
