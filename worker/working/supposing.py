"""Slips that come back in many answers: one wrong load, or one wrong angle, taken throughout.

In: an answer that is not right.  Out: what the student may have taken for what, with words for it.
Whether it explains the other answers is for ``follow`` to find out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rubric.language import _
from rubric.wording import figure
from worker.truss.model import Member, Truss
from worker.working.balance import WHOLE, Equation, Supposed, slope_deg
from worker.working.sheet import Entry

LEVEL_DEG = 2.0
"""A member this near to level or upright has no angle to take wrongly, and no such angle is supposed."""
SAME_DEG = 0.5
"""Two angles nearer than this are one."""


@dataclass(frozen=True)
class Cause:
    """What was taken, and how the student is told."""

    supposed: Supposed
    told: str


def causes(truss: Truss, entry: Entry, known: Mapping[str, float], equations: Sequence[Equation]) -> Iterator[Cause]:
    """What one answer lets one suppose."""
    given = entry.given_N
    if given is None or not given or not entry.true_N:
        return
    if entry.is_reaction:
        factor = given / entry.true_N
        if factor > 0:
            yield Cause(Supposed(loads=factor), _load_told(factor))
        return
    member = next(m for m in truss.members if m.name == entry.name)
    slope = slope_deg(truss, member)
    if not LEVEL_DEG < slope < 90 - LEVEL_DEG:
        return
    alike = frozenset(m.name for m in truss.members if slope_deg(truss, m) == slope)
    taken = [90 - slope, *_angles(truss, member, given, known, equations, alike)]
    for angle in taken:
        if LEVEL_DEG < angle < 90 - LEVEL_DEG and abs(angle - slope) > SAME_DEG:
            yield Cause(Supposed(angles={slope: angle}), _angle_told(angle, slope))


def _angles(
    truss: Truss,
    member: Member,
    given: float,
    known: Mapping[str, float],
    equations: Sequence[Equation],
    alike: frozenset[str],
) -> Iterator[float]:
    """The angles with which resolving gives the answer, at a joint where only this member slopes so."""
    for equation in equations:
        others = equation.terms.keys() - {member.name}
        if equation.where == WHOLE or equation.without or member.name not in equation.terms:
            continue
        if others & alike or not others <= known.keys():
            continue
        balance = sum(equation.terms[name] * known[name] for name in others) + equation.constant
        part = abs(balance / given)
        if part < 1:
            (x, *__), (p, *__) = truss.joints[member.start], truss.joints[member.end]
            across = math.isclose(abs(equation.terms[member.name]), abs(p - x) / truss.length_mm(member), rel_tol=1e-6)
            yield math.degrees(math.acos(part) if across else math.asin(part))


def _load_told(factor: float) -> str:
    if math.isclose(factor, 2, rel_tol=0.02):
        return _("It fits if you took twice the load: one side truss carries its own share alone.")
    return _("It fits if you took {times} times the load that this truss carries.", times=figure(factor))


def _angle_told(angle: float, slope: float) -> str:
    if math.isclose(angle, 90 - slope, abs_tol=SAME_DEG):
        return _("It fits if you mixed up sine and cosine: the angle to level is {slope} degrees.", slope=figure(slope))
    return _(
        "It fits an angle of {angle} degrees to level, but it is {slope} degrees.",
        angle=figure(angle),
        slope=figure(slope),
    )
