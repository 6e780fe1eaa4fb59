"""Two attempts of one student side by side: what was changed, and what it did.

Pure counting and text: both were solved before.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rubric.language import _, counted
from rubric.marking import Marks
from rubric.messages.outcomes import Analysis, JointRow, Marked, MemberRow
from rubric.wording import amount, figure, listed, plain_figure, points
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
        unread = listed(
            [_("attempt {number}", number=side.number) for side in (before, after) if side.outcome.analysis is None]
        )
        said = _("The file of {attempts} has mistakes, so there are not two trusses to compare.", attempts=unread)
        return Comparison((said,), (gained,), (_points_line(before, after),), criteria)
    changed = tuple(_changed(old, new)) or (_("Nothing: both trusses are the same."),)
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
        yield counted("{count} new member: {names}.", "{count} new members: {names}.", len(added), names=_some(added))
    if taken:
        yield counted(
            "{count} member taken out: {names}.", "{count} members taken out: {names}.", len(taken), names=_some(taken)
        )
    yield from _other_sticks([(was[ends], row) for ends, row in now.items() if ends in was])
    yield from _moved(old, new, renamed)


def _names(old: Analysis, new: Analysis) -> dict[str, str]:
    """The later name of each earlier joint: the same, or that of a new joint in its place; else one of its own."""
    kept = {row.name for row in old.joints} & {row.name for row in new.joints}
    free = [row for row in new.joints if row.name not in kept]
    found = {}
    for row in old.joints:
        there = next((one.name for one in free if _apart(one, row) < SAME_PLACE_MM), None)
        found[row.name] = row.name if row.name in kept else there or _("{joint} (gone)", joint=row.name)
    return found


def _other_sticks(both: Sequence[tuple[MemberRow, MemberRow]]) -> Iterator[str]:
    """Each change from one stick to another with the members that had it."""
    swaps: dict[tuple[str, str], list[str]] = {}
    for before, after in both:
        if (before.stick, before.count) != (after.stick, after.count):
            swaps.setdefault((_stick(before), _stick(after)), []).append(after.name)
    for (before_said, after_said), names in swaps.items():
        yield _("Now of {after}, not {before}: {names}.", after=after_said, before=before_said, names=_some(names))


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
        yield counted(
            "Joint {names} moved {way}.", "Joints {names} moved {way}.", len(names), names=_some(names), way=way
        )
    came, went = [name for name in now if name not in was], [row.name for name, row in was.items() if name not in now]
    if came:
        yield counted("{count} new joint: {names}.", "{count} new joints: {names}.", len(came), names=_some(came))
    if went:
        yield counted(
            "{count} joint taken out: {names}.", "{count} joints taken out: {names}.", len(went), names=_some(went)
        )


def _apart(one: JointRow, other: JointRow) -> float:
    return math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)


def _way(x_mm: float, y_mm: float) -> str:
    """``20 mm up and 5 mm to the left``."""
    ways = []
    if abs(y_mm) >= 0.05:
        size = amount(abs(y_mm), "mm")
        ways.append(_("{size} up", size=size) if y_mm > 0 else _("{size} down", size=size))
    if abs(x_mm) >= 0.05:
        size = amount(abs(x_mm), "mm")
        ways.append(_("{size} to the right", size=size) if x_mm > 0 else _("{size} to the left", size=size))
    return listed(ways)


def _did(old: Analysis, new: Analysis) -> Iterator[str]:
    """What came of it, the whole first."""
    if old.state != new.state:
        stands = new.state == "stable"
        yield (
            _("Now the truss stands. Before, it could move.")
            if stands
            else _("Now the truss can move. Before, it stood.")
        )
    load = _moved_by(old.failure_load_N, new.failure_load_N, "N")
    if new.failure_load_N is not None and load:
        yield _("The bridge now carries {load}, {change}.", load=amount(new.failure_load_N, "N"), change=load)
    mass = _moved_by(old.mass_g, new.mass_g, "g")
    if mass and (old.efficiency is not None or new.efficiency is not None):
        yield _("It weighs {mass}, {change}.", mass=amount(new.mass_g, "g"), change=mass)
    efficiency = _moved_by(old.efficiency, new.efficiency, "")
    if new.efficiency is not None and efficiency:
        yield _("Its efficiency is now {efficiency}, {change}.", efficiency=figure(new.efficiency), change=efficiency)
    yield from _breaks(old, new)


def _breaks(old: Analysis, new: Analysis) -> Iterator[str]:
    was, now = old.first_failure, new.first_failure
    if was is None or now is None:
        return
    if was.member == now.member:
        yield _("Member {member} still breaks first.", member=now.member)
    else:
        yield _("Now member {member} breaks first. Before, it was {other}.", member=now.member, other=was.member)


def _numbers(old: Analysis, new: Analysis) -> Iterator[Line]:
    rows: list[tuple[str, float | None, float | None, str]] = [
        (_("Failure load"), old.failure_load_N, new.failure_load_N, "N"),
        (_("Mass of the whole bridge"), old.mass_g, new.mass_g, "g"),
        (_("Efficiency"), old.efficiency, new.efficiency, ""),
        (_("Midspan deflection, down is +"), old.midspan_deflection_mm, new.midspan_deflection_mm, "mm"),
        (_("Members"), len(old.members), len(new.members), ""),
        (_("Joints"), len(old.joints), len(new.joints), ""),
    ]
    for name, before, after, unit in rows:
        if before is not None or after is not None:
            yield Line(name, _value(before, unit), _value(after, unit), _signed(before, after, unit))
    first = [one.first_failure.member if one.first_failure else "–" for one in (old, new)]
    if first != ["–", "–"]:
        change = _("the same") if first[0] == first[1] else _("another member")
        yield Line(_("Breaks first"), first[0], first[1], change)


def _points_line(before: Side, after: Side) -> Line:
    said = [
        _("{points} of {of}", points=points(side.marks.total), of=points(side.marks.out_of)) for side in (before, after)
    ]
    change = round(after.marks.total - before.marks.total, 2)
    sign = "+" if change > 0 else "\N{MINUS SIGN}" if change < 0 else ""
    return Line(_("Points"), said[0], said[1], f"{sign}{points(abs(change))}")


def _points_said(before: Side, after: Side) -> str:
    change = round(after.marks.total - before.marks.total, 2)
    if not change:
        return _("It earns as many points as before: {points}.", points=points(after.marks.total))
    numbers = {"points": points(after.marks.total), "change": points(abs(change))}
    if change > 0:
        return _("It earns {points} points, {change} more than before.", **numbers)
    return _("It earns {points} points, {change} fewer than before.", **numbers)


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
    size = amount(abs(change), unit)
    return _("{size} more than before", size=size) if change > 0 else _("{size} less than before", size=size)


def _change(before: float, after: float) -> float:
    """Between the numbers as printed, so that the three agree."""
    return round(float(plain_figure(after)) - float(plain_figure(before)), 9)


def _some(names: Sequence[str]) -> str:
    rest = len(names) - MOST_NAMED
    return (
        listed([*names]) if rest <= 0 else _("{names} and {rest} more", names=", ".join(names[:MOST_NAMED]), rest=rest)
    )
