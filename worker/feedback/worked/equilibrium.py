"""Equilibrium in numbers: everything that pulls or pushes at a joint, and the sum across and up.

Forces are N, to the right and up positive.  A member in tension pulls the joint towards its other end, one in
compression pushes it away: the part of its force across is F cos(angle), the part up F sin(angle).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from rubric.brief import Brief
from rubric.language import _, later
from rubric.messages.outcomes import Analysis, JointRow
from rubric.messages.told import Pull
from worker.feedback.text import clean
from worker.feedback.worked.numbers import Decimals, angle_said

MOST_JOINTS = 4
NOTHING = 1e-6
"""A member below this part of the largest force is said to carry nothing."""

Parts = tuple[float, float]


@dataclass(frozen=True)
class Balance:
    """A joint cut free.  ``across`` and ``up`` are the sums as printed; ``exact``: both are nought as printed."""

    key: str
    """The joint's name in the analysis; ``joint`` is how it is written."""
    joint: str
    role: str
    pulls: tuple[Pull, ...]
    across: str
    up: str
    exact: bool


@dataclass(frozen=True)
class Line:
    """A force on a joint: its parts, N; of a member its force, tension positive, and the way to its other end.

    ``name``: of a member its own, else what it is, in English; ``said``: as people read it.
    """

    name: str
    parts: Parts
    force_N: float | None = None
    way: Parts | None = None

    @property
    def said(self) -> str:
        return _(self.name) if self.way is None else self.name


def balances(analysis: Analysis) -> tuple[Balance, ...]:
    """The support joints and the joints of the member that breaks first; nothing for a mechanism."""
    if analysis.state != "stable":
        return ()
    first = analysis.first_failure
    governing = next((row for row in analysis.members if first and row.name == first.member), None)
    ends = (governing.start, governing.end) if governing else ()
    roles = {row.name: _("a support") for row in analysis.joints if row.support}
    for name in ends:
        end = clean(governing.name, 20) if governing else ""
        if name in roles:
            roles[name] = _("a support, and an end of {member}, which breaks first", member=end)
        else:
            roles[name] = _("an end of {member}, which breaks first", member=end)
    joints = {row.name: row for row in analysis.joints}
    return tuple(balance(analysis, joints[name], roles[name]) for name in list(roles)[:MOST_JOINTS])


def balance(analysis: Analysis, joint: JointRow, role: str = "") -> Balance:
    """One joint: its members, its load, its own weight and its reaction, and their sums."""
    found = lines(analysis, joint)
    decimals = decimals_of(found)
    sums = [decimals.total([line.parts[axis] for line in found]) for axis in (0, 1)]
    return Balance(
        key=joint.name,
        joint=clean(joint.name, 20),
        role=role,
        pulls=tuple(_pull(line, decimals) for line in found),
        across=decimals.signed(sums[0]),
        up=decimals.signed(sums[1]),
        exact=sums == [0.0, 0.0],
    )


def decimals_of(found: Iterable[Line]) -> Decimals:
    """How the numbers of one joint are printed."""
    return Decimals.of([size for line in found for size in (*line.parts, line.force_N or 0.0)])


def lines(analysis: Analysis, joint: JointRow) -> tuple[Line, ...]:
    """Everything that pulls or pushes at a joint: its members first, in the order of the truss."""
    return tuple(_lines(analysis, joint))


def _lines(analysis: Analysis, joint: JointRow) -> Iterator[Line]:
    at = {row.name: (row.x_mm, row.y_mm) for row in analysis.joints}
    least = NOTHING * max((abs(row.force_N) for row in analysis.members), default=0.0)
    for row in analysis.members:
        if joint.name in (row.start, row.end):
            here, there = at[joint.name], at[row.end if row.start == joint.name else row.start]
            force_N = row.force_N if abs(row.force_N) > least else 0.0
            cosines = [(q - p) / row.length_mm for p, q in zip(here, there, strict=True)]
            yield Line(
                clean(row.name, 20), (force_N * cosines[0], force_N * cosines[1]), force_N, (cosines[0], cosines[1])
            )
    if any(joint.load_N):
        yield Line(later("load"), joint.load_N)
    if joint.own_weight_N:
        yield Line(later("own weight"), (0.0, -joint.own_weight_N))
    if joint.reaction_N is not None:
        yield Line(later("support"), joint.reaction_N)


def _pull(line: Line, decimals: Decimals) -> Pull:
    x, y = line.parts
    force, angle = "", ""
    if line.force_N is not None:
        letter = "T" if line.force_N > 0 else "C"
        force = f"{decimals.said(abs(line.force_N))} {letter}" if line.force_N else "0"
        angle = angle_said(math.degrees(math.atan2(abs(y), abs(x)))) if line.force_N else ""
    return Pull(name=line.said, force=force, angle=angle, across=decimals.signed(x), up=decimals.signed(y))


def with_stiff_joints(brief: Brief) -> str:
    """Why the sums do not quite vanish where joints are rigid; nothing for hinges."""
    if brief.joints == "hinged":
        return ""
    return _("Stiff joints also push the members a little sideways. That takes what is left of the sums.")
