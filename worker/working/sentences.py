"""What a student is told of one answer: what was written, what holds, where to look."""

from __future__ import annotations

import math

from rubric.evidence import Verdict
from rubric.language import _, later
from rubric.wording import figure, listed
from worker.truss.model import Truss
from worker.working.balance import MIRROR, WHOLE
from worker.working.follow import UNITS, Settled
from worker.working.reading import Reading
from worker.working.sheet import Entry

_DIRECTIONS = {
    "x": (later("{size} {unit} right"), later("{size} {unit} left")),
    "y": (later("{size} {unit} up"), later("{size} {unit} down")),
}
_SENSES = ("{size} {unit} T", "{size} {unit} C")
MOST_SLIPS = 3
"""Slips named in one sentence."""


def force_said(entry: Entry, value_N: float, truss: Truss) -> str:
    """``80 N C``, ``50 N up`` or ``0 N``, in the unit of the file."""
    size = figure(abs(value_N) / truss.newtons_per_force)
    if size == "0":
        return f"0 {truss.force_unit}"
    positive, negative = _DIRECTIONS[entry.name[-1]] if entry.is_reaction else _SENSES
    return _(positive if value_N > 0 else negative, size=size, unit=truss.force_unit)


def said(entry: Entry, verdict: Verdict, reading: Reading, settled: Settled | None, cause: str, truss: Truss) -> str:
    """The sentences for one answer; ``cause`` is what its slip tells of others."""
    holds = force_said(entry, entry.true_N, truss)
    wrote = _("You wrote {answer}.", answer=entry.written.said) if entry.written else ""
    match verdict:
        case "left out":
            return _("You left this out. It is {holds}.", holds=holds)
        case "right":
            return _("Right: it is {holds}.", holds=holds)
        case "follows":
            assert settled is not None
            return " ".join((_("It should be {holds}.", holds=holds), _follows(entry, settled)))
        case "rounded":
            return " ".join((wrote, _("It is {holds}: keep three figures.", holds=holds)))
        case "unit":
            why = _(reading.unit.told) if reading.unit else ""
            return " ".join((wrote, _("It is {holds}.", holds=holds), why)).rstrip()
        case "sense":
            return f"{wrote} {_sense(entry, holds)} {cause or _look(entry)}".rstrip()
    return f"{wrote} {_wrong(entry, holds)} {cause or _look(entry)}".rstrip()


def sense_said(entry: Entry, verdict: Verdict) -> str:
    """The sentences where T, C or 0 alone is asked for."""
    true = "0" if not entry.true_N else "T" if entry.true_N > 0 else "C"
    means = {
        "T": _("T: the member is pulled"),
        "C": _("C: the member is pushed"),
        "0": _("0: no force runs through the member"),
    }[true]
    if verdict == "left out":
        return _("You left this out. It is {holds}.", holds=means)
    if verdict == "right":
        return _("Right: it is {holds}.", holds=means)
    assert entry.written is not None
    wrote, holds = _("You wrote {answer}.", answer=_letter(entry)), _("It is {holds}.", holds=means)
    return f"{wrote} {holds} {_look(entry)}".rstrip()


def _letter(entry: Entry) -> str:
    assert entry.written is not None
    return {1.0: "T", -1.0: "C"}.get(entry.written.sense, "0")


def _follows(entry: Entry, settled: Settled) -> str:
    wrote = entry.written.said if entry.written else ""
    if settled.where == UNITS:
        return _("Your {answer} has the same slip of units as {other}.", answer=wrote, other=named(settled.slips[0]))
    if settled.where == MIRROR:
        leads = _("Your {answer} matches your answer on the other side", answer=wrote)
    elif settled.where == WHOLE:
        leads = _("Your other reactions lead to your {answer}", answer=wrote)
    else:
        leads = _("At joint {joint} your own forces lead to your {answer}", joint=settled.where, answer=wrote)
    if not settled.slips:
        return _("{leads}, so small differences added up there.", leads=leads)
    slips = listed([named(slip) for slip in settled.slips[:MOST_SLIPS]])
    return _("{leads}, so the slip came earlier, in {slips}.", leads=leads, slips=slips)


def named(name: str) -> str:
    """``a-b`` as it is, ``a y`` in words."""
    joint, __, axis = name.partition(" ")
    return _("the reaction at {joint}", joint=joint) if axis else name


def _sense(entry: Entry, holds: str) -> str:
    given = entry.given_N
    if given is None:
        return _("That is right, and its size is missing: it is {holds}.", holds=holds)
    if entry.is_reaction:
        said = _("The direction is right, but it is {holds}.", holds=holds)
    else:
        said = _("The sense is right, but it is {holds}.", holds=holds)
    ratio = given / entry.true_N
    for factor, words in ((2.0, _("You have just twice as much.")), (0.5, _("You have just half of it."))):
        if math.isclose(ratio, factor, rel_tol=0.005):
            return f"{said} {words}"
    return said


def _wrong(entry: Entry, holds: str) -> str:
    assert entry.written is not None
    given = entry.given_N
    if not entry.true_N:
        if entry.is_reaction:
            return _("But nothing pushes or pulls there: it is 0.")
        return _("But it is a zero member: 0.")
    if given == 0:
        return _("But it is not 0: it is {holds}.", holds=holds)
    if entry.is_reaction:
        return _("It is the other way: {holds}.", holds=holds)
    size = given is not None and math.isclose(abs(given), abs(entry.true_N), rel_tol=0.02)
    if entry.true_N > 0:
        if size:
            return _("The size is right, but the member is pulled: it is {holds}.", holds=holds)
        return _("The member is pulled: it is {holds}.", holds=holds)
    if size:
        return _("The size is right, but the member is pushed: it is {holds}.", holds=holds)
    return _("The member is pushed: it is {holds}.", holds=holds)


def _look(entry: Entry) -> str:
    if entry.is_reaction:
        if entry.name.endswith("y"):
            return _("Look at the moments about the other support.")
        return _("Look at all forces across.")
    return _("Look at joint {joint} again.", joint=entry.joint)
