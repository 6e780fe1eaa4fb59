"""What is drawn in a way that its writer hardly means, though the file can be solved."""

from __future__ import annotations

import math

from rubric.language import _
from worker.truss.model import Member, Truss

TOUCHES = 1e-3
"""Distance of a joint from a member, over the member's length, at which the member runs through it."""

MOST_TOLD = 3


def crossings(truss: Truss) -> tuple[str, ...]:
    """Members that run through a joint they are not joined to, in sentences a student reads."""
    return tuple(
        _(
            "Member {member} runs straight through joint {joint} but is not joined to it. "
            "If you glue them, write two members that meet at {joint}.",
            member=member.name,
            joint=name,
        )
        for member, name in crossing_members(truss)[:MOST_TOLD]
    )


def crossing_members(truss: Truss) -> list[tuple[Member, str]]:
    """Each member that runs through a joint it is not joined to, with that joint."""
    return [(member, name) for member in truss.members for name in truss.joints if runs_through(truss, member, name)]


def runs_through(truss: Truss, member: Member, name: str) -> bool:
    """Whether a member passes over a joint that is neither of its ends."""
    if name in (member.start, member.end):
        return False
    (ax, ay, *_), (bx, by, *_), (px, py, *_) = (truss.joints[n] for n in (member.start, member.end, name))
    dx, dy = bx - ax, by - ay
    length = math.hypot(dx, dy)
    along = ((px - ax) * dx + (py - ay) * dy) / length**2
    off = abs((px - ax) * dy - (py - ay) * dx) / length
    return TOUCHES < along < 1 - TOUCHES and off <= TOUCHES * length and math.isfinite(off)
