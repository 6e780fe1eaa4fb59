"""Which sticks lie on which: layers from the board up, and what meets at each joint.

Sticks that meet nearly straight lie end to end in one layer; sticks that meet at more of an angle, or cross,
are laid one over the other.  Under gussets sticks meet edge to edge, so only crossing ones are laid over.
Common practice for side trusses that are built lying on a board.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from rubric.brief import Brief
from rubric.messages.outcomes import Analysis, JointRow, MemberRow
from worker.feedback.plan.pieces import tenth

END_TO_END_DEG = 120.0
"""Two sticks that meet at this angle or more can lie end to end in one layer."""

Point = tuple[float, float]


@dataclass(frozen=True)
class Meeting:
    """One joint: where it is and what meets there, by layer from the board up."""

    name: str
    x_mm: float
    y_mm: float
    layers: tuple[tuple[str, ...], ...]


def layers(analysis: Analysis, brief: Brief) -> tuple[tuple[MemberRow, ...], ...]:
    """The members by layer, the one on the board first.

    Each member goes into the lowest layer where it is not in the way; the flattest come first, so that chords
    lie at the bottom.
    """
    at = {joint.name: (joint.x_mm, joint.y_mm) for joint in analysis.joints}
    gussets = has_gussets(brief)
    found: list[list[MemberRow]] = []
    for member in sorted(analysis.members, key=lambda one: round(_steepness(one, at), 6)):
        free = (layer for layer in found if not any(_in_the_way(member, other, at, gussets) for other in layer))
        layer = next(free, None)
        if layer is None:
            found.append([member])
        else:
            layer.append(member)
    place = {member.name: i for i, member in enumerate(analysis.members)}
    return tuple(tuple(sorted(layer, key=lambda one: place[one.name])) for layer in found)


def has_gussets(brief: Brief) -> bool:
    """Whether the joints are glued under plates."""
    return brief.glue is not None and brief.glue.gusset is not None


def meetings(analysis: Analysis, laid: tuple[tuple[MemberRow, ...], ...]) -> tuple[Meeting, ...]:
    """Every joint with the members that meet there, in the order they are laid."""
    return tuple(_meeting(joint, laid) for joint in analysis.joints)


def _meeting(joint: JointRow, laid: tuple[tuple[MemberRow, ...], ...]) -> Meeting:
    here = [(i, member.name) for i, layer in enumerate(laid) for member in layer if joint.name in _ends(member)]
    by_layer = tuple(tuple(name for _, name in group) for _, group in groupby(here, key=lambda pair: pair[0]))
    return Meeting(joint.name, tenth(joint.x_mm), tenth(joint.y_mm), by_layer)


def _ends(member: MemberRow) -> tuple[str, str]:
    return member.start, member.end


def _steepness(member: MemberRow, at: Mapping[str, Point]) -> float:
    """Angle from the horizontal, radians; members on the deck line come before all others."""
    (ax, ay), (bx, by) = at[member.start], at[member.end]
    if abs(ay) < 1e-6 and abs(by) < 1e-6:
        return -1.0
    return math.atan2(abs(by - ay), abs(bx - ax))


def _in_the_way(one: MemberRow, other: MemberRow, at: Mapping[str, Point], gussets: bool) -> bool:
    """Whether the two cannot lie in one layer."""
    shared = set(_ends(one)) & set(_ends(other))
    if not shared:
        return _cross(at[one.start], at[one.end], at[other.start], at[other.end])
    return not gussets and any(_angle_deg(joint, one, other, at) < END_TO_END_DEG for joint in shared)


def _angle_deg(joint: str, one: MemberRow, other: MemberRow, at: Mapping[str, Point]) -> float:
    (ax, ay), (bx, by) = _away(joint, one, at), _away(joint, other, at)
    return abs(math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by)))


def _away(joint: str, member: MemberRow, at: Mapping[str, Point]) -> Point:
    far = member.end if joint == member.start else member.start
    return at[far][0] - at[joint][0], at[far][1] - at[joint][1]


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the lines a-b and c-d have a point in common."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    apart = any(_beyond(a[i], b[i], c[i], d[i]) for i in (0, 1))
    return not apart and side(a, b, c) * side(a, b, d) <= 0 and side(c, d, a) * side(c, d, b) <= 0


def _beyond(a: float, b: float, c: float, d: float) -> bool:
    return max(a, b) < min(c, d) or max(c, d) < min(a, b)


def doubled(analysis: Analysis) -> Iterator[MemberRow]:
    """The members made of more than one stick."""
    return (member for member in analysis.members if member.count > 1)
