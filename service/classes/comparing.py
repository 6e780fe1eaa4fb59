"""Two attempts of one student side by side: what was changed, and what it did.

Pure counting and text: both were solved before.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rubric.marking import Marks
from rubric.messages.outcomes import Analysis, JointRow, Marked, MemberRow
from rubric.wording import amount, figure, listed, plain_figure, plural, points
from service.classes.compared import Row, differences

SAME_PLACE_MM = 0.5
"""Joints nearer to each other than this are in one place."""
MOST_NAMED = 6

Pair = frozenset[str]
"""The two joints of a member, by the names of the later attempt."""


@dataclass(frozen=True)
class Side:
    """One of the two attempts."""

    number: int
    outcome: Marked
    marks: Marks


@dataclass(frozen=True)
class Line:
    """One number of both, and how it moved; all with their units."""

    name: str
    before: str
    after: str
    change: str


@dataclass(frozen=True)
class Comparison:
    """What to show."""

    changed: tuple[str, ...]
    did: tuple[str, ...]
    numbers: tuple[Line, ...]
    criteria: tuple[Row, ...]


def compare(before: Side, after: Side) -> Comparison:
    """What was changed from one attempt to a later one, and what that did."""
    old, new = before.outcome.analysis, after.outcome.analysis
    criteria = differences(before.marks, after.marks)
    gained = _points_said(before, after)
    if old is None or new is None:
        unread = listed([f"attempt {side.number}" for side in (before, after) if side.outcome.analysis is None])
        said = f"The file of {unread} has mistakes, so there are not two trusses to compare."
        return Comparison((said,), (gained,), (_points_line(before, after),), criteria)
    changed = tuple(_changed(old, new)) or ("Nothing: both trusses are the same.",)
    did = (*_did(old, new), gained)
    return Comparison(changed, did, (*_numbers(old, new), _points_line(before, after)), criteria)


def _changed(old: Analysis, new: Analysis) -> Iterator[str]:
    """Joints and members that are not the same in both."""
    renamed = _names(old, new)
    was = {frozenset((renamed[row.start], renamed[row.end])): row for row in old.members}
    now = {frozenset((row.start, row.end)): row for row in new.members}
    added = [row.name for ends, row in now.items() if ends not in was]
    taken = [row.name for ends, row in was.items() if ends not in now]
    if added:
        yield f"{plural(len(added), 'new member')}: {_some(added)}."
    if taken:
        yield f"{plural(len(taken), 'member')} taken out: {_some(taken)}."
    yield from _other_sticks([(was[ends], row) for ends, row in now.items() if ends in was])
    yield from _moved(old, new, renamed)


def _names(old: Analysis, new: Analysis) -> dict[str, str]:
    """The later name of each earlier joint: the same, or that of a new joint in its place; else one of its own."""
    kept = {row.name for row in old.joints} & {row.name for row in new.joints}
    free = [row for row in new.joints if row.name not in kept]
    found = {}
    for row in old.joints:
        there = next((one.name for one in free if _apart(one, row) < SAME_PLACE_MM), None)
        found[row.name] = row.name if row.name in kept else there or f"{row.name} (gone)"
    return found


def _other_sticks(both: Sequence[tuple[MemberRow, MemberRow]]) -> Iterator[str]:
    """Each change from one stick to another with the members that had it."""
    swaps: dict[tuple[str, str], list[str]] = {}
    for before, after in both:
        if (before.stick, before.count) != (after.stick, after.count):
            swaps.setdefault((_stick(before), _stick(after)), []).append(after.name)
    for (before_said, after_said), names in swaps.items():
        yield f"Now of {after_said}, not {before_said}: {_some(names)}."


def _stick(row: MemberRow) -> str:
    return row.stick if row.count == 1 else f"{row.stick} × {row.count}"


def _moved(old: Analysis, new: Analysis, renamed: dict[str, str]) -> Iterator[str]:
    """Joints that stand elsewhere, those that came and those that went."""
    was = {renamed[row.name]: row for row in old.joints}
    now = {row.name: row for row in new.joints}
    moves: dict[str, list[str]] = {}
    for name, row in now.items():
        if name in was and _apart(row, was[name]) >= SAME_PLACE_MM:
            moves.setdefault(_way(row.x_mm - was[name].x_mm, row.y_mm - was[name].y_mm), []).append(name)
    for way, names in moves.items():
        yield f"{'Joint' if len(names) == 1 else 'Joints'} {_some(names)} moved {way}."
    came, went = [name for name in now if name not in was], [row.name for name, row in was.items() if name not in now]
    if came:
        yield f"{plural(len(came), 'new joint')}: {_some(came)}."
    if went:
        yield f"{plural(len(went), 'joint')} taken out: {_some(went)}."


def _apart(one: JointRow, other: JointRow) -> float:
    return math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)


def _way(x_mm: float, y_mm: float) -> str:
    """``20 mm up and 5 mm to the left``."""
    level = [f"{amount(abs(x_mm), 'mm')} to the {'right' if x_mm > 0 else 'left'}"] if abs(x_mm) >= 0.05 else []
    upright = [f"{amount(abs(y_mm), 'mm')} {'up' if y_mm > 0 else 'down'}"] if abs(y_mm) >= 0.05 else []
    return listed(upright + level)


def _did(old: Analysis, new: Analysis) -> Iterator[str]:
    """What came of it, the whole first."""
    if old.state != new.state:
        stands = new.state == "stable"
        yield "Now the truss stands. Before, it could move." if stands else "Now the truss can move. Before, it stood."
    load = _moved_by(old.failure_load_N, new.failure_load_N, "N")
    if new.failure_load_N is not None and load:
        yield f"The bridge now carries {amount(new.failure_load_N, 'N')}, {load}."
    mass = _moved_by(old.mass_g, new.mass_g, "g")
    if mass and (old.efficiency is not None or new.efficiency is not None):
        yield f"It weighs {amount(new.mass_g, 'g')}, {mass}."
    efficiency = _moved_by(old.efficiency, new.efficiency, "")
    if new.efficiency is not None and efficiency:
        yield f"Its efficiency is now {figure(new.efficiency)}, {efficiency}."
    yield from _breaks(old, new)


def _breaks(old: Analysis, new: Analysis) -> Iterator[str]:
    was, now = old.first_failure, new.first_failure
    if was is None or now is None:
        return
    if was.member == now.member:
        yield f"Member {now.member} still breaks first."
    else:
        yield f"Now member {now.member} breaks first. Before, it was {was.member}."


def _numbers(old: Analysis, new: Analysis) -> Iterator[Line]:
    rows: list[tuple[str, float | None, float | None, str]] = [
        ("Failure load", old.failure_load_N, new.failure_load_N, "N"),
        ("Mass of the whole bridge", old.mass_g, new.mass_g, "g"),
        ("Efficiency", old.efficiency, new.efficiency, ""),
        ("Midspan deflection, down is +", old.midspan_deflection_mm, new.midspan_deflection_mm, "mm"),
        ("Members", len(old.members), len(new.members), ""),
        ("Joints", len(old.joints), len(new.joints), ""),
    ]
    for name, before, after, unit in rows:
        if before is not None or after is not None:
            yield Line(name, _value(before, unit), _value(after, unit), _signed(before, after, unit))
    first = [one.first_failure.member if one.first_failure else "–" for one in (old, new)]
    if first != ["–", "–"]:
        yield Line("Breaks first", first[0], first[1], "the same" if first[0] == first[1] else "another member")


def _points_line(before: Side, after: Side) -> Line:
    said = [f"{points(side.marks.total)} of {points(side.marks.out_of)}" for side in (before, after)]
    change = round(after.marks.total - before.marks.total, 2)
    sign = "+" if change > 0 else "\N{MINUS SIGN}" if change < 0 else ""
    return Line("Points", said[0], said[1], f"{sign}{points(abs(change))}")


def _points_said(before: Side, after: Side) -> str:
    change = round(after.marks.total - before.marks.total, 2)
    if not change:
        return f"It earns as many points as before: {points(after.marks.total)}."
    more = "more" if change > 0 else "fewer"
    return f"It earns {points(after.marks.total)} points, {points(abs(change))} {more} than before."


def _value(value: float | None, unit: str) -> str:
    return "–" if value is None else amount(value, unit)


def _signed(before: float | None, after: float | None, unit: str) -> str:
    if before is None or after is None:
        return "–"
    change = _change(before, after)
    sign = "+" if change > 0 else "\N{MINUS SIGN}" if change < 0 else ""
    return f"{sign}{amount(abs(change), unit)}"


def _moved_by(before: float | None, after: float | None, unit: str) -> str:
    """``12 N more than before``; nothing where one of them is missing or they print alike."""
    if before is None or after is None or not _change(before, after):
        return ""
    change = _change(before, after)
    return f"{amount(abs(change), unit)} {'more' if change > 0 else 'less'} than before"


def _change(before: float, after: float) -> float:
    """Between the numbers as printed, so that the three agree."""
    return round(float(plain_figure(after)) - float(plain_figure(before)), 9)


def _some(names: Sequence[str]) -> str:
    rest = len(names) - MOST_NAMED
    return listed([*names]) if rest <= 0 else f"{', '.join(names[:MOST_NAMED])} and {rest} more"
