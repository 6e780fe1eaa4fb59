"""What one member can carry: pulled, pushed, and at its glued ends.

All in N, of one member of one side truss.  A mode is named for what a pupil would see.
"""

from __future__ import annotations

from dataclasses import dataclass

from rubric.brief import Brief, Glue
from rubric.messages.outcomes import Axis, Mode
from worker.strength.columns import CURVES
from worker.strength.joints import GUSSETS, gussets_N, lap_N, lap_width_mm
from worker.strength.sections import section_of
from worker.strength.slenderness import slenderness_of
from worker.strength.wood import Wood, at_level, scatter
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
    axis: Axis = "either"
    """Which way it buckles first."""

    def governs(self, force_N: float) -> tuple[float | None, Mode]:
        """Capacity and mode that govern under ``force_N`` (tension positive)."""
        if force_N == 0:
            return None, "none"
        capacity, mode = self.of_wood(force_N > 0)
        if self.joint_N is not None and self.joint_N < capacity:
            return self.joint_N, "joint"
        return capacity, mode

    def of_wood(self, pulled: bool) -> tuple[float, Mode]:
        """Capacity and mode of the stick itself, whatever its ends carry."""
        if pulled:
            return self.tension_N, "tension"
        return self.buckling_N, "crushing" if self.buckling_N >= SHORT_STRUT * self.crushing_N else "buckling"


def capacity(truss: Truss, member: Member, brief: Brief, wood: Wood) -> Capacity:
    """Capacities of a member of a class truss.

    Tension and crushing: strength x area.  Buckling by the brief's column curve, in the plane of the
    truss or out of it, whichever comes first.  Joint: ``worker/strength/joints.py``.
    """
    area_mm2 = section_of(member, brief).area_mm2
    slender = slenderness_of(truss, member, brief)
    stress_MPa = CURVES[brief.column_curve](wood.column_modulus_MPa, wood.compression_MPa, slender.governing)
    return Capacity(
        tension_N=wood.tension_MPa * area_mm2,
        crushing_N=wood.compression_MPa * area_mm2,
        buckling_N=stress_MPa * area_mm2,
        joint_N=None if brief.glue is None else joint_N(member, brief, brief.glue, wood),
        slenderness=slender.governing,
        axis=slender.axis,
    )


def joint_N(member: Member, brief: Brief, glue: Glue, wood: Wood) -> float:
    """What one end of a member carries, N.

    Without gussets each stick is lapped and glued over the brief's lap.  With gussets the two outer
    faces of the member are glued to the plates, however many sticks it has, and the plates may tear.
    """
    given, spread = brief.wood, scatter(brief.wood)
    glue_MPa = at_level(given, glue.strength_MPa, spread.glue)
    width_mm = lap_width_mm(brief.stock[member.stick].section)
    if glue.gusset is None:
        return lap_N(glue.lap_mm, width_mm, member.count, glue_MPa, wood.shear_MPa)
    plate_MPa = at_level(given, glue.gusset.strength_MPa, spread.tension)
    return min(
        lap_N(glue.lap_mm, width_mm, GUSSETS, glue_MPa, wood.shear_MPa),
        gussets_N(glue.gusset.thickness_mm, width_mm, plate_MPa),
    )
