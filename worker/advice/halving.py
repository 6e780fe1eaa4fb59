"""A strut that buckles, held at its middle by one more bar.

Member p-q becomes p-m and m-q, and a bar runs from the new joint m to a joint c that is not in line with them: two
equations of equilibrium more, and two forces more.  A stable truss stays stable (the second step of L. Henneberg,
Die graphische Statik der starren Systeme, 1911, from memory).  While no load stands at m the bar carries nothing,
so the lightest stick will do.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import count

from rubric.brief import REACH_MM, Brief
from rubric.language import _, counted
from rubric.wording import listed
from worker.advice.bracing import allowed
from worker.advice.changes import Change, mirrored, stick_said, written
from worker.analysis import Solved
from worker.strength.sections import section
from worker.truss.cautions import runs_through
from worker.truss.model import Member, Truss, Vector

NEAREST = 12
"""Joints tried for the other end of the bar, nearest first."""

LEAST_SINE = 0.25
"""Of the angle between bar and strut: about 15 degrees; a bar nearly in line holds nothing."""


@dataclass(frozen=True)
class Braced:
    """A truss in which ``strut`` is cut into ``halves`` at the joint ``middle``, which ``bar`` holds."""

    truss: Truss
    strut: Member
    halves: tuple[Member, Member]
    middle: str
    bar: Member

    @property
    def holds(self) -> str:
        """The joint that the bar runs to."""
        return self.bar.end


def halved(solved: Solved) -> Iterator[Change]:
    """The strut that fails first by buckling in the plane, braced at its middle, and its mirror image likewise.

    Members along the deck are left alone: a new joint there would change where the load stands.
    """
    first, truss, brief = solved.strength.first, solved.truss, solved.brief
    if first is None or first.mode != "buckling" or first.axis == "out of plane":
        return
    strut = first.member
    if all(abs(truss.joints[name][1]) <= REACH_MM for name in (strut.start, strut.end)):
        return
    middle = _middle(truss, strut)
    near = sorted((name for name in truss.joints), key=lambda name: math.dist(truss.joints[name], middle))
    one = next((done for name in near[:NEAREST] if (done := braced(truss, strut, name, brief))), None)
    if one is None:
        return
    both = [one, twin] if (twin := _twin(one, brief)) else [one]
    yield Change("brace", _title(both), both[-1].truss, _why(both))


def braced(truss: Truss, strut: Member, to: str, brief: Brief) -> Braced | None:
    """The truss with the strut held at its middle by a bar to the joint ``to``; None where that cannot be built.

    The bar may not lie along or across another member, nor may the new joint lie on one.
    """
    if to in (strut.start, strut.end):
        return None
    middle = next(name for number in count(1) if (name := f"m{number}") not in truss.joints)
    halves = (_part(strut, strut.start, middle), _part(strut, middle, strut.end))
    parts = [halves if member == strut else (member,) for member in truss.members]
    split = replace(
        truss,
        joints={**truss.joints, middle: _middle(truss, strut)},
        members=tuple(member for part in parts for member in part),
    )
    bar = Member(f"{middle}-{to}", middle, to, _lightest(brief))
    others = [member for member in truss.members if member != strut]
    if _sine(split, strut, bar) < LEAST_SINE or not allowed(split, brief, bar):
        return None
    if any(runs_through(split, member, middle) or _crosses(split, bar, member) for member in others):
        return None
    return Braced(replace(split, members=(*split.members, bar)), strut, halves, middle, bar)


def _twin(done: Braced, brief: Brief) -> Braced | None:
    """The same on the other side of midspan, where the truss has the same strut there."""
    other = mirrored(done.truss, brief)
    ends = {other.get(done.strut.start), other.get(done.strut.end)}
    kind = (done.strut.stick, done.strut.count)
    twins = [m for m in done.truss.members if {m.start, m.end} == ends and (m.stick, m.count) == kind]
    to = other.get(done.holds)
    return braced(done.truss, twins[0], to, brief) if twins and to is not None else None


def _middle(truss: Truss, strut: Member) -> Vector:
    """Half way along, to a tenth of a millimetre: as it will be written."""
    a, b = truss.joints[strut.start], truss.joints[strut.end]
    return tuple(round((p + q) / 2, 1) for p, q in zip(a, b, strict=True))


def _part(strut: Member, start: str, end: str) -> Member:
    return replace(strut, name=f"{start}-{end}", start=start, end=end)


def _lightest(brief: Brief) -> str:
    return min(brief.stock, key=lambda name: (section(brief.stock[name], 1).area_mm2, name))


def _sine(truss: Truss, strut: Member, bar: Member) -> float:
    a, b, m, c = (truss.joints[name] for name in (strut.start, strut.end, bar.start, bar.end))
    across = (b[0] - a[0]) * (c[1] - m[1]) - (b[1] - a[1]) * (c[0] - m[0])
    return abs(across) / (math.dist(a, b) * math.dist(m, c))


def _crosses(truss: Truss, bar: Member, member: Member) -> bool:
    """Whether two members cross between their ends."""
    if {bar.start, bar.end} & {member.start, member.end}:
        return False
    a, b, p, q = (truss.joints[name] for name in (bar.start, bar.end, member.start, member.end))
    return _side(a, b, p) * _side(a, b, q) < 0 and _side(p, q, a) * _side(p, q, b) < 0


def _side(a: Vector, b: Vector, p: Vector) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _title(each: list[Braced]) -> str:
    joints = [
        _("{joint} at {place}", joint=one.middle, place=written(one.truss, one.truss.joints[one.middle]))
        for one in each
    ]
    swaps = [
        _("{strut} by {half} and {other}", strut=one.strut.name, half=one.halves[0].name, other=one.halves[1].name)
        for one in each
    ]
    return counted(
        "Add joint {joints}; replace {swaps}; add member {bars}",
        "Add joints {joints}; replace {swaps}; add members {bars}",
        len(each),
        joints=listed(joints),
        swaps=swaps[0] if len(each) == 1 else _("{one}, and {other}", one=swaps[0], other=swaps[1]),
        bars=listed([one.bar.name for one in each]),
    )


def _why(each: list[Braced]) -> str:
    """Why it helps, and the sticks to write."""
    struts, bars = listed([one.strut.name for one in each]), listed([one.bar.name for one in each])
    why = counted(
        "Strut {struts} buckles first. A bar at its middle halves its free length.",
        "Struts {struts} buckle first. A bar at its middle halves the free length of each.",
        len(each),
        struts=struts,
    )
    how = _(
        "Cut {bars} from {stick}; the halves stay {old}.",
        bars=bars,
        stick=stick_said(each[0].bar),
        old=stick_said(each[0].strut),
    )
    return f"{why} {how}"
