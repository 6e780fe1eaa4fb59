"""The whole bridge: its first failure, its mass, its efficiency.

Member forces grow in proportion to the load (linear statics, no self-weight), so the first
member to reach its capacity sets the failure load: target load / largest utilisation.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rubric.brief import Brief
from rubric.messages.outcomes import Mode
from rubric.quantities import STANDARD_GRAVITY
from worker.strength.capacity import capacity
from worker.strength.sections import section_of
from worker.strength.wood import Wood
from worker.truss.model import Member, Truss

TIE = 1e-9
"""Relative: utilisations this near to each other are the same; the first in the file is named."""


@dataclass(frozen=True)
class Check:
    """One member at the target load: force N (tension positive), what it can carry, and how full it is."""

    member: Member
    force_N: float
    capacity_N: float | None
    mode: Mode
    utilisation: float


@dataclass(frozen=True)
class Strength:
    """The checks of all members, and of the whole bridge the first failure."""

    checks: tuple[Check, ...]
    first: Check | None
    failure_load_N: float | None
    mass_g: float
    efficiency: float | None


def strength(truss: Truss, forces_N: Mapping[str, float], brief: Brief, wood: Wood) -> Strength:
    """Check every member of one side truss under its share of the target load.

    ``forces_N`` is empty for a mechanism: then there are no checks, and only the mass is known.
    ``failure_load_N`` is None where no member carries anything.
    """
    checks = tuple(check(truss, m, forces_N[m.name], brief, wood) for m in truss.members) if forces_N else ()
    largest = max((check.utilisation for check in checks), default=0.0)
    mass_g = bridge_mass_g(truss, brief, wood)
    if largest == 0:
        return Strength(checks, None, None, mass_g, None)
    load_N = brief.load.target_N / largest
    return Strength(
        checks=checks,
        first=next(check for check in checks if check.utilisation >= largest * (1 - TIE)),
        failure_load_N=load_N,
        mass_g=mass_g,
        efficiency=load_N / weight_N(mass_g) if mass_g > 0 else None,
    )


def check(truss: Truss, member: Member, force_N: float, brief: Brief, wood: Wood) -> Check:
    """One member under a given force, N, tension positive."""
    can = capacity(truss, member, brief, wood)
    most_N, mode = can.governs(force_N)
    return Check(member, force_N, most_N, mode, 0.0 if most_N is None else abs(force_N) / most_N)


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
