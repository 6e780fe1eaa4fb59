"""From a truss to its fingerprint: what is left when names, order, place, size and sticks are gone."""

from __future__ import annotations

import numpy as np

from rubric.messages.likeness import FARTHEST, Fingerprint
from worker.statics.structure import Floats
from worker.truss.model import Truss

PARTS = 10_000
"""Parts of the span in which a fingerprint measures."""

STRAIGHT = 0.15
"""Sine of the bend up to which two members count as one straight member cut in two."""

Bars = frozenset[tuple[int, int]]


def fingerprint(truss: Truss) -> Fingerprint | None:
    """The fingerprint of a plane truss; None where it spans next to nothing or has no members.

    It is measured from the left support in parts of the distance between the supports, or
    between the outermost joints where the truss has no two supports side by side.
    """
    if not truss.members:
        return None
    names = sorted({name for member in truss.members for name in (member.start, member.end)})
    row = {name: index for index, name in enumerate(names)}
    places = np.array([truss.joints[name][:2] for name in names], dtype=float)
    left, right = _ends(truss, row, places)
    span_mm = float(right[0] - left[0])
    if not span_mm > 0:
        return None
    bars = frozenset(bar(row[member.start], row[member.end]) for member in truss.members)
    kept, bars = whole_members(places, bars)
    measured = np.rint((places - left) / span_mm * PARTS).astype(int)
    if np.abs(measured).max() > FARTHEST:
        return None
    order = sorted(kept, key=lambda joint: (*measured[joint], joint))
    new = {joint: index for index, joint in enumerate(order)}
    return Fingerprint(
        joints=tuple((int(measured[joint][0]), int(measured[joint][1])) for joint in order),
        bars=tuple(sorted(bar(new[p], new[q]) for p, q in bars)),
        span_mm=span_mm,
    )


def bar(p: int, q: int) -> tuple[int, int]:
    """The two joints of a bar, the lower row first."""
    return (p, q) if p < q else (q, p)


def whole_members(places: Floats, bars: Bars) -> tuple[list[int], Bars]:
    """Joints and bars with every member whole that was only cut in two.

    A joint at which just two bars meet, in line with each other, is taken out and its bars joined.
    """
    beside = neighbours(bars)
    for joint in sorted(beside):
        if len(beside.get(joint, ())) == 2 and in_line(places, joint, *sorted(beside[joint])):
            bars = joined(bars, joint, *beside[joint])
            beside = neighbours(bars)
    return sorted(beside), bars


def neighbours(bars: Bars) -> dict[int, set[int]]:
    """For each joint those that bars join it to."""
    beside: dict[int, set[int]] = {}
    for p, q in bars:
        beside.setdefault(p, set()).add(q)
        beside.setdefault(q, set()).add(p)
    return beside


def in_line(places: Floats, joint: int, one: int, other: int) -> bool:
    """Whether a joint stands on the straight line between two others, or nearly so."""
    back, on = places[joint] - places[one], places[other] - places[joint]
    size = float(np.hypot(*back) * np.hypot(*on))
    return size > 0 and float(back @ on) > 0 and abs(float(back[0] * on[1] - back[1] * on[0])) <= STRAIGHT * size


def joined(bars: Bars, joint: int, one: int, other: int) -> Bars:
    """The bars with one bar past a joint in place of the two that end there."""
    return bars - {bar(joint, one), bar(joint, other)} | {bar(one, other)}


def _ends(truss: Truss, row: dict[str, int], places: Floats) -> tuple[Floats, Floats]:
    """Where the left and the right support stand, or the outermost joints."""
    held = [places[row[name]] for name in truss.supports if name in row] or list(places)
    held.sort(key=lambda place: tuple(place))
    if held[-1][0] <= held[0][0]:
        held = sorted(places, key=lambda place: tuple(place))
    return held[0], held[-1]
