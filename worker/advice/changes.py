"""Small changes a student could make to a truss.  Each gives a new truss; none mutates."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from rubric.brief import REACH_MM, Brief
from rubric.language import _, later
from rubric.wording import amount, listed, plain_figure
from worker.analysis import Solved
from worker.strength.bridge import check
from worker.strength.sections import section
from worker.strength.wood import wood
from worker.truss.limits import depth_above_mm
from worker.truss.model import Member, Truss, Vector

DEEPER = 1.25
SHALLOWER = 0.8
MOVED = 0.1
LEAST_RESHAPED = 0.05
IDLE = 1e-3
"""A member below this part of its capacity carries next to nothing."""

MOST_LEFT_OUT = 8
MOST_NAMED = 5


@dataclass(frozen=True)
class Change:
    """A change in words, the kind of idea it is, the truss after it, and what else to say of it."""

    kind: str
    title: str
    truss: Truss
    why: str = ""


def thicker(solved: Solved) -> Iterator[Change]:
    """The member that fails first, with a doubled stick or the next stick of the kit."""
    first = solved.strength.first
    if first is None:
        return
    member, brief = first.member, solved.brief
    if member.count < brief.most_sticks:
        more = replace(member, count=member.count + 1)
        title = _("Write {stick} for member {member}", stick=stick_said(more), member=member.name)
        yield Change("double", title, _swap(solved.truss, [more]))
    bigger = _nextstick_said(member, brief, larger=True)
    if bigger is not None:
        title = _("Cut member {member} from {stick}", member=member.name, stick=bigger.stick)
        yield Change("stick", title, _swap(solved.truss, [bigger]))


def stronger_together(solved: Solved) -> Iterator[Change]:
    """Every member nearly as full as the first one, each with one stick more.

    In a symmetrical truss a single stronger member changes nothing: its twin fails instead.
    """
    first, brief = solved.strength.first, solved.brief
    if first is None:
        return
    full = [c.member for c in solved.strength.checks if c.utilisation >= 0.95 * first.utilisation]
    if len(full) < 2 or any(member.count >= brief.most_sticks for member in full):
        return
    more = [replace(member, count=member.count + 1) for member in full]
    title = _("Make the members stronger that fail together: cut {members}", members=_named(more))
    yield Change("double", title, _swap(solved.truss, more))


def reshaped(solved: Solved) -> Iterator[Change]:
    """All joints above the deck a quarter higher or a fifth lower, within the brief's depth."""
    height, most = depth_above_mm(solved.truss), solved.brief.limits.depth_above_mm
    if height == 0:
        return
    for factor, words in (
        (DEEPER, later("Make the truss deeper: raise its top from {now} to {then}")),
        (SHALLOWER, later("Make the truss shallower: lower its top from {now} to {then}")),
    ):
        scale = factor if most is None else min(factor, most / height)
        if abs(scale - 1) < LEAST_RESHAPED:
            continue
        joints = {name: (x, y * scale if y > 0 else y) for name, (x, y, *__) in solved.truss.joints.items()}
        title = _(words, now=amount(height, "mm"), then=amount(height * scale, "mm"))
        yield Change("depth", title, replace(solved.truss, joints=joints))


def lighter(solved: Solved) -> Iterator[Change]:
    """Every member that a lighter stick would still not make the first to fail."""
    first = solved.strength.first
    if first is None:
        return
    less = []
    for now in solved.strength.checks:
        smaller = _smaller(now.member, solved.brief)
        if smaller is not None:
            then = check(solved.truss, smaller, now.force_N, solved.brief, wood(solved.brief.wood))
            if then.utilisation < first.utilisation:
                less.append(smaller)
    if less:
        title = _("Save wood where there is strength to spare: cut {members}", members=_named(less))
        yield Change("lighter", title, _swap(solved.truss, less))


def moved(solved: Solved) -> Iterator[Change]:
    """An end of the member that fails first, moved by a tenth of its length, and its mirror image likewise.

    Joints on the deck line stay: supports and loads stand there.
    """
    first, truss = solved.strength.first, solved.truss
    if first is None:
        return
    reach = MOVED * truss.length_mm(first.member)
    for name in (first.member.start, first.member.end):
        yield from moves(truss, solved.brief, name, reach)


def moves(truss: Truss, brief: Brief, name: str, reach_mm: float) -> Iterator[Change]:
    """A joint off the deck line moved left, right, up and down, and its mirror image about midspan likewise."""
    if abs(truss.joints[name][1]) <= REACH_MM:
        return
    for dx, dy in ((-reach_mm, 0.0), (reach_mm, 0.0), (0.0, reach_mm), (0.0, -reach_mm)):
        joints = _with_moved(truss, brief, name, round(dx), round(dy))
        twin = [other for other in joints if joints[other] != truss.joints[other] and other != name]
        there = written(truss, joints[name])
        if twin:
            title = _("Move joint {joint} to {place}, and joint {twin} to match", joint=name, place=there, twin=twin[0])
        else:
            title = _("Move joint {joint} to {place}", joint=name, place=there)
        yield Change("move", title, replace(truss, joints=joints))


def _with_moved(truss: Truss, brief: Brief, name: str, dx: float, dy: float) -> dict[str, Vector]:
    """The joints with one of them moved, and with it the one that mirrors it about midspan."""
    x, y, *__ = truss.joints[name]
    joints = dict(truss.joints)
    for other, place in truss.joints.items():
        if other != name and _mirrors(place, (x, y), brief):
            joints[other] = (place[0] - dx, place[1] + dy)
    joints[name] = (x + dx, y + dy)
    return joints


def mirrored(truss: Truss, brief: Brief) -> dict[str, str]:
    """The joint that mirrors each joint about midspan, where there is one; at midspan a joint mirrors itself."""
    places = truss.joints.items()
    return {name: other for name, here in places for other, there in places if _mirrors(there, here, brief)}


def _mirrors(there: Vector, here: Vector, brief: Brief) -> bool:
    return math.dist(there, (brief.span_mm - here[0], here[1])) <= REACH_MM


def written(truss: Truss, place: Vector) -> str:
    """A place as the file writes it, with the file's unit."""
    size = truss.mm_per_length
    return f"[{', '.join(plain_figure(part / size, 6) for part in place)}] {truss.length_unit}"


def left_out(solved: Solved) -> Iterator[Change]:
    """Each member that carries nothing, taken out; none of a determinate truss, which needs them all to stand."""
    if not solved.solution.degree:
        return
    for idle in [c.member for c in solved.strength.checks if c.utilisation < IDLE][:MOST_LEFT_OUT]:
        rest = tuple(member for member in solved.truss.members if member != idle)
        title = _("Leave out member {member}, which carries next to nothing", member=idle.name)
        yield Change("leave out", title, replace(solved.truss, members=rest))


def _named(members: list[Member]) -> str:
    """``a-b and b-c from 'square3', d-e from 'square5 x2'``; of many only the first few."""
    by_stick: dict[str, list[str]] = {}
    for member in members:
        by_stick.setdefault(stick_said(member), []).append(member.name)
    return listed([_("{members} from {stick}", members=_few(names), stick=stick) for stick, names in by_stick.items()])


def _few(names: list[str]) -> str:
    if len(names) <= MOST_NAMED:
        return listed(names)
    return _("{names} and {count} more", names=", ".join(names[:4]), count=len(names) - 4)


def _smaller(member: Member, brief: Brief) -> Member | None:
    return replace(member, count=member.count - 1) if member.count > 1 else _nextstick_said(member, brief, larger=False)


def _nextstick_said(member: Member, brief: Brief, larger: bool) -> Member | None:
    """The member from the next larger or smaller stick of the kit, by area."""
    areas = {name: section(stick, 1).area_mm2 for name, stick in brief.stock.items()}
    own = areas[member.stick]
    others = [name for name, area in areas.items() if (area > own if larger else area < own)]
    if not others:
        return None
    return replace(member, stick=min(others, key=lambda name: (abs(areas[name] - own), name)))


def _swap(truss: Truss, members: list[Member]) -> Truss:
    by_name = {member.name: member for member in members}
    return replace(truss, members=tuple(by_name.get(member.name, member) for member in truss.members))


def stick_said(member: Member) -> str:
    """Its stick as the file writes it."""
    return f"'{member.stick}{f' x{member.count}' if member.count > 1 else ''}'"
