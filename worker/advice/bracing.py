"""Where one more bar would stop a mechanism: found by computing, not by counting."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

from rubric.brief import Brief
from worker import statics
from worker.truss.cautions import runs_through
from worker.truss.model import Member, Truss

MOST_TRIED = 60
"""Pairs of joints tried, shortest first: enough for any pupil's truss, and bounded for the rest."""


def brace(truss: Truss, brief: Brief) -> Member | None:
    """The shortest bar the brief allows that takes one mechanism away; None where none does.

    Only bars that resist one of the movements found are tried, each by its rank.
    """
    before = statics.solve(truss)
    if not before.mechanisms:
        return None
    joined = {frozenset((member.start, member.end)) for member in truss.members}
    stick = truss.members[0].stick if truss.members else next(iter(brief.stock))
    pairs = sorted(
        (Member(f"{a}-{b}", a, b, stick) for a, b in combinations(truss.joints, 2) if frozenset((a, b)) not in joined),
        key=truss.length_mm,
    )
    likely = (bar for bar in pairs if _resists(truss, bar, before) and allowed(truss, brief, bar))
    for bar, _ in zip(likely, range(MOST_TRIED), strict=False):
        if statics.mechanisms_of(replace(truss, members=(*truss.members, bar))) < before.mechanisms:
            return bar
    return None


def allowed(truss: Truss, brief: Brief, bar: Member) -> bool:
    """Whether the brief allows its length, and it lies along no member and runs through no joint."""
    length, most, least = truss.length_mm(bar), brief.limits.longest_member_mm, brief.limits.shortest_member_mm
    fits = (most is None or length <= most) and (least is None or length >= least)
    alongside = any(_lies_along(truss, bar, member) for member in truss.members)
    return fits and not alongside and not any(runs_through(truss, bar, name) for name in truss.joints)


def _lies_along(truss: Truss, bar: Member, member: Member) -> bool:
    """Whether the bar would lie on a member that it shares a joint with."""
    shared = {bar.start, bar.end} & {member.start, member.end}
    return bool(shared) and (runs_through(truss, member, bar.start) or runs_through(truss, member, bar.end))


def _resists(truss: Truss, bar: Member, found: statics.Solution) -> bool:
    """Whether the bar would change length in any of the movements."""
    a, b = truss.joints[bar.start], truss.joints[bar.end]
    for motion in found.motions:
        parted = sum((q - p) * (v - u) for p, q, u, v in zip(a, b, motion[bar.start], motion[bar.end], strict=True))
        if abs(parted) > 1e-6 * truss.length_mm(bar):
            return True
    return False
