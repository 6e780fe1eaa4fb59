"""The whole bridge: its first failure, its mass, its efficiency.

Linear statics: under x times the target load a member carries g + x p, g from what is there before the
load (self-weight) and p from the target load.  With C the capacity in the sense of p it fails at

    x = (1 - g / C) / (p / C),     g counted positive in the sense of p,

and the first member to fail, at the place where the load is worst for it, sets the failure load.  Rigid
joints also bend the stick: then |bending stress| / bending strength is added to g / C and p / C (the
straight-line rule of EN 1995-1-1, eq. 6.17 and 6.23, without its factors for shape); on the safe side where g
and p bend opposite ways.  Its glued ends are checked for the axial force alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from rubric.brief import Brief
from rubric.messages.outcomes import Axis, Mode
from rubric.quantities import STANDARD_GRAVITY
from worker.demand import STILL, Demand
from worker.strength.capacity import Capacity, capacity
from worker.strength.sections import section_of
from worker.strength.wood import Wood
from worker.truss.model import Member, Truss

TIE = 1e-9
"""Relative: loads this near to each other are the same; the first member in the file is named."""


@dataclass(frozen=True)
class Check:
    """One member at the target load: force N (tension positive), what it can carry, and how full it is.

    ``load_factor`` is x, the times of the target load at which it fails, infinite where it carries
    nothing of that.  ``place`` is where a load that travels is worst for it.
    """

    member: Member
    force_N: float
    capacity_N: float | None
    mode: Mode
    utilisation: float
    load_factor: float = math.inf
    place: str = STILL
    bending_MPa: float = 0.0
    axis: Axis | None = None
    """Which way it buckles; None where it fails in another mode."""


@dataclass(frozen=True)
class Strength:
    """The checks of all members, and of the whole bridge the first failure."""

    checks: tuple[Check, ...]
    first: Check | None
    failure_load_N: float | None
    mass_g: float
    efficiency: float | None


def strength(truss: Truss, demand: Demand | None, brief: Brief, wood: Wood) -> Strength:
    """Check every member of one side truss under its share of the target load.

    ``demand`` is None for a mechanism: then there are no checks, and only the mass is known.
    ``failure_load_N`` is None where no member carries anything.
    """
    each = _capacities(truss, brief, wood)
    checks = tuple(_worst(member, can, wood.bending_MPa, demand) for member, can in each) if demand else ()
    least = min((check.load_factor for check in checks), default=math.inf)
    mass_g = bridge_mass_g(truss, brief, wood)
    if math.isinf(least):
        return Strength(checks, None, None, mass_g, None)
    load_N = brief.load.target_N * least
    return Strength(
        checks=checks,
        first=next(check for check in checks if check.load_factor <= least * (1 + TIE)),
        failure_load_N=load_N,
        mass_g=mass_g,
        efficiency=load_N / weight_N(mass_g) if mass_g > 0 else None,
    )


@dataclass(frozen=True)
class _Part:
    """What acts on one member: force N, tension positive, and bending stress MPa, without sign."""

    force_N: float
    bending_MPa: float


_NOTHING = _Part(0.0, 0.0)


def check(truss: Truss, member: Member, force_N: float, brief: Brief, wood: Wood) -> Check:
    """One member under a given force of the target load, N, tension positive, and nothing else."""
    can = capacity(truss, member, brief, wood)
    return _checked(member, can, wood.bending_MPa, STILL, _Part(force_N, 0.0), _NOTHING)


def _capacities(truss: Truss, brief: Brief, wood: Wood) -> Iterator[tuple[Member, Capacity]]:
    """Each member and what it can carry; members alike in stick and length are reckoned once."""
    known: dict[tuple[str, int, float], Capacity] = {}
    for member in truss.members:
        alike = member.stick, member.count, truss.length_mm(member)
        if alike not in known:
            known[alike] = capacity(truss, member, brief, wood)
        yield member, known[alike]


def _worst(member: Member, can: Capacity, bends_at_MPa: float, demand: Demand) -> Check:
    """The member with the load where it fails first."""
    each = (_checked(member, can, bends_at_MPa, *parts) for parts in _parts(member.name, demand))
    return min(each, key=lambda found: (found.load_factor, -found.utilisation))


def _parts(name: str, demand: Demand) -> Iterator[tuple[str, _Part, _Part]]:
    """Each place of the load, what it does to a member there, and what is there before."""
    before = demand.permanent
    own = _Part(before.forces_N[name], before.bending_MPa.get(name, 0.0)) if before else _NOTHING
    for place, action in demand.target.items():
        yield place, _Part(action.forces_N[name], action.bending_MPa.get(name, 0.0)), own


def _checked(member: Member, can: Capacity, bends_at_MPa: float, place: str, load: _Part, own: _Part) -> Check:
    force_N, bending_MPa = own.force_N + load.force_N, own.bending_MPa + load.bending_MPa
    most_N, mode = can.governs(force_N)
    utilisation = abs(force_N) / most_N if most_N else 0.0
    if bending_MPa:
        wood_N, how = can.of_wood(force_N > 0)
        axial, bent = abs(force_N) / wood_N, bending_MPa / bends_at_MPa
        if axial + bent > utilisation:
            most_N, mode, utilisation = wood_N, "bending" if bent > axial else how, axial + bent
    return Check(
        member=member,
        force_N=force_N,
        capacity_N=most_N,
        mode=mode,
        utilisation=utilisation,
        load_factor=_load_factor(can, bends_at_MPa, load, own),
        place=place,
        bending_MPa=bending_MPa,
        axis=can.axis if mode == "buckling" else None,
    )


def _load_factor(can: Capacity, bends_at_MPa: float, load: _Part, own: _Part) -> float:
    """x of the module's formula: of the stick, bent or not, and of its glued ends, which bending leaves alone."""
    turned = load.force_N or own.force_N
    along = math.copysign(1.0, turned)
    wood_N, _ = can.of_wood(turned > 0)
    stick = _reached(
        along * own.force_N / wood_N + own.bending_MPa / bends_at_MPa,
        abs(load.force_N) / wood_N + load.bending_MPa / bends_at_MPa,
    )
    if can.joint_N is None:
        return stick
    return min(stick, _reached(along * own.force_N / can.joint_N, abs(load.force_N) / can.joint_N))


def _reached(filled: float, rate: float) -> float:
    """Load factor at which ``filled``, which is there before, has grown to 1 at ``rate``."""
    if not rate:
        return math.inf if filled < 1 else 0.0
    return max(0.0, (1 - filled) / rate)


def member_mass_g(truss: Truss, member: Member, brief: Brief, wood: Wood) -> float:
    """Mass of one member of one side: density x area x length between joints."""
    return wood.density_kg_m3 * 1e-6 * section_of(member, brief).area_mm2 * truss.length_mm(member)


def bridge_mass_g(truss: Truss, brief: Brief, wood: Wood) -> float:
    """All like side trusses and the cross-member allowance, g; glue is not counted."""
    ties_g = brief.cross_members.mass_g if brief.cross_members else 0.0
    return brief.sides * sum(member_mass_g(truss, m, brief, wood) for m in truss.members) + ties_g


def weight_N(mass_g: float) -> float:
    """Weight of a mass under standard gravity."""
    return mass_g * 1e-3 * STANDARD_GRAVITY
