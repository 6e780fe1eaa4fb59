"""What one member can carry: pulled, pushed, and at its glued ends.

All in N, of one member of one side truss.  A mode is named for what a pupil would see.
"""

from __future__ import annotations

from dataclasses import dataclass

from rubric.brief import Brief
from rubric.messages.outcomes import Mode
from worker.strength.columns import buckling_stress_MPa
from worker.strength.sections import section_of
from worker.strength.wood import Wood
from worker.truss.model import Member, Truss

SHORT_STRUT = 0.95
"""A strut that keeps this part of its crushing force is said to crush, not to buckle."""


@dataclass(frozen=True)
class Capacity:
    """Forces at which a member fails, N.  ``joint_N`` is None where the brief has no glue."""

    tension_N: float
    crushing_N: float
    buckling_N: float
    joint_N: float | None
    slenderness: float

    def governs(self, force_N: float) -> tuple[float | None, Mode]:
        """Capacity and mode that govern under ``force_N`` (tension positive)."""
        if force_N == 0:
            return None, "none"
        capacity, mode = self._wood(force_N > 0)
        if self.joint_N is not None and self.joint_N < capacity:
            return self.joint_N, "joint"
        return capacity, mode

    def _wood(self, pulled: bool) -> tuple[float, Mode]:
        if pulled:
            return self.tension_N, "tension"
        return self.buckling_N, "crushing" if self.buckling_N >= SHORT_STRUT * self.crushing_N else "buckling"


def capacity(truss: Truss, member: Member, brief: Brief, wood: Wood) -> Capacity:
    """Capacities of a member of a class truss.

    Tension and crushing: strength x area.  Buckling about the weaker axis with the brief's
    effective-length factor K.  Joint: each stick is lapped and glued over the brief's lap at each
    end, and either the glue or the wood beside it shears: lap x stick width x number of sticks x
    the smaller shear strength (common practice; in balsa the wood shears first).
    """
    section = section_of(member, brief)
    length_mm = brief.effective_length * truss.length_mm(member)
    slenderness = length_mm / section.radius_of_gyration_mm
    joint_N = None
    if brief.glue is not None:
        lap_mm2 = brief.glue.lap_mm * max(brief.stock[member.stick].section_mm) * member.count
        joint_N = lap_mm2 * min(brief.glue.strength_MPa, wood.shear_MPa)
    return Capacity(
        tension_N=wood.tension_MPa * section.area_mm2,
        crushing_N=wood.compression_MPa * section.area_mm2,
        buckling_N=buckling_stress_MPa(wood.modulus_MPa, wood.compression_MPa, slenderness) * section.area_mm2,
        joint_N=joint_N,
        slenderness=slenderness,
    )
