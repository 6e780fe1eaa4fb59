"""What is drawn in a way that its writer hardly means, though the file can be solved."""

from __future__ import annotations

import math

import numpy as np

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
    if not truss.members:
        return []
    names, at = list(truss.joints), np.array([joint[:2] for joint in truss.joints.values()])
    start, end = (
        np.array([truss.joints[n][:2] for n in ends]) for ends in zip(*map(_ends, truss.members), strict=True)
    )
    spans, seen = (end - start)[:, None], at[None] - start[:, None]  # (m, 1, 2) and (m, n, 2)
    square = (spans**2).sum(axis=2)
    off = np.abs(seen[..., 0] * spans[..., 1] - seen[..., 1] * spans[..., 0])
    # Few joints are near a line at all, and only these are worth a closer look.
    near = np.argwhere(off <= 2 * TOUCHES * square)
    return [(truss.members[m], names[n]) for m, n in near if runs_through(truss, truss.members[m], names[n])]


def _ends(member: Member) -> tuple[str, str]:
    return member.start, member.end


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
