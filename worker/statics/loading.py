"""Loads that follow from the truss itself, or from what crosses it or warms it.

Down is against the last coordinate: -y in the plane, -z in space.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from rubric.quantities import STANDARD_GRAVITY
from worker.statics.batch import forces_for_loads
from worker.statics.structure import Floats
from worker.truss.model import Truss, Vector

NOISE = 1e-12
"""Below this part of the largest ordinate, an ordinate is rounding noise."""

TIE = 1e-9
"""Two positions whose forces differ by less than this part are alike; the first is named."""


@dataclass(frozen=True)
class Extreme:
    """A member's largest or least force in N, tension positive, and the deck joint at which the load then stands."""

    force_N: float
    joint: str


@dataclass(frozen=True)
class Travelling:
    """A single load that stands on one deck joint after another.

    force_N:   the load, downward
    joints:    the deck joints from left to right
    places_mm: where they stand along x
    influence: influence line of each member: its force per unit of downward load at each of the
               deck joints, tension positive, dimensionless
    highest:   for each member its largest force as the load travels (tension where positive)
    lowest:    for each member its least force (compression where negative)

    Between two joints an influence line is straight, because the deck hands a load on to the
    joints beside it by the law of the lever; so the extremes are found at the joints.
    """

    force_N: float
    joints: tuple[str, ...]
    places_mm: tuple[float, ...]
    influence: Mapping[str, tuple[float, ...]]
    highest: Mapping[str, Extreme]
    lowest: Mapping[str, Extreme]

    def ordinate(self, member: str, x_mm: float) -> float:
        """Force in a member per unit of downward load at ``x_mm``; raises ValueError beyond the deck."""
        xs, line = self.places_mm, self.influence[member]
        if not xs[0] <= x_mm <= xs[-1]:
            raise ValueError(f"no deck at x = {x_mm:g} mm; it runs from {xs[0]:g} to {xs[-1]:g} mm")
        right = min(bisect_right(xs, x_mm), len(xs) - 1)
        left = max(right - 1, 0)
        share = (x_mm - xs[left]) / (xs[right] - xs[left]) if right > left else 0.0
        return line[left] + share * (line[right] - line[left])


def travelling(truss: Truss, joints: Sequence[str], force_N: float) -> Travelling:
    """Put a downward load on each of ``joints`` in turn; the matrix is factorised once for all.

    The truss's own loads, settlements and misfits are left out: forces add up, so whoever wants
    them adds them.  Raises Moves, StiffnessMissing, and ValueError for joints that are none, stand
    above one another, or are not in the truss.
    """
    names = _along(truss, joints)
    bare = replace(truss, loads={}, settlements={}, misfits={})
    row = {name: index for index, name in enumerate(truss.joints)}
    unit = np.zeros((len(names), len(row), len(truss.joints[names[0]])))
    unit[np.arange(len(names)), [row[name] for name in names], -1] = -1.0
    lines = forces_for_loads(bare, unit).T
    lines = np.where(np.abs(lines) <= NOISE * np.abs(lines).max(initial=0.0), 0.0, lines)
    members = [member.name for member in truss.members]
    return Travelling(
        force_N=force_N,
        joints=names,
        places_mm=tuple(truss.joints[name][0] for name in names),
        influence=dict(zip(members, map(tuple, lines.tolist()), strict=True)),
        highest=dict(zip(members, _extremes(force_N * lines, names, 1.0), strict=True)),
        lowest=dict(zip(members, _extremes(force_N * lines, names, -1.0), strict=True)),
    )


def self_weight(truss: Truss, density_kg_m3: float) -> dict[str, Vector]:
    """Loads in N by joint: half the weight of each member at either end.

    Half and half keeps the weight and its moment; a member's own sagging between its joints is
    left out, as is usual for trusses.  Raises ValueError for a member without an area.
    """
    down = dict.fromkeys(truss.joints, 0.0)
    for member in truss.members:
        if member.area_mm2 is None:
            raise ValueError(f"member {member.name} has no area, so its weight is not known")
        mass_kg = member.area_mm2 * truss.length_mm(member) * 1e-9 * density_kg_m3
        for joint in (member.start, member.end):
            down[joint] += mass_kg * STANDARD_GRAVITY / 2
    return {joint: (0.0,) * (len(truss.joints[joint]) - 1) + (0.0 - force,) for joint, force in down.items()}


def with_loads(truss: Truss, more: Mapping[str, Vector]) -> Truss:
    """The truss with ``more`` loads (N, by joint) beside its own."""
    loads = dict(truss.loads)
    for joint, load in more.items():
        loads[joint] = tuple(a + b for a, b in zip(loads.get(joint, (0.0,) * len(load)), load, strict=True))
    return replace(truss, loads=loads)


def warming(truss: Truss, warmer_K: Mapping[str, float], expansion_per_K: float) -> dict[str, float]:
    """Misfits in mm, by member, of members that are warmer by so many kelvin: alpha * dT * L.

    A warmer member acts as one that is cut too long; a colder one, as one that is too short.
    Raises ValueError for a name that is no member.
    """
    lengths = {member.name: truss.length_mm(member) for member in truss.members}
    for name in warmer_K:
        if name not in lengths:
            raise ValueError(f"a temperature names member {name}, but there is no such member")
    return {name: expansion_per_K * kelvin * lengths[name] for name, kelvin in warmer_K.items()}


def _along(truss: Truss, joints: Sequence[str]) -> tuple[str, ...]:
    """The joints from left to right."""
    for name in joints:
        if name not in truss.joints:
            raise ValueError(f"the deck names joint {name}, but there is no such joint")
    names = tuple(sorted(joints, key=lambda name: truss.joints[name][0]))
    if not names:
        raise ValueError("a load that travels needs at least one joint to stand on")
    if len({truss.joints[name][0] for name in names}) < len(names):
        raise ValueError("two joints of the deck have the same x, so their order along it is not known")
    return names


def _extremes(forces: Floats, names: tuple[str, ...], sign: float) -> list[Extreme]:
    """The highest (sign 1) or lowest (sign -1) of each row, at the first position that has it."""
    along = sign * forces
    top = along.max(axis=1, keepdims=True)
    first = np.argmax(along >= top - TIE * np.abs(forces).max(axis=1, keepdims=True), axis=1)
    return [Extreme(float(row[at]) + 0.0, names[at]) for row, at in zip(forces, first, strict=True)]
