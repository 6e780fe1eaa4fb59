"""Cross-sections of a brief's sticks, and the truss with them filled in."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from rubric.brief import Brief, Glued, Stick
from rubric.profiles import Profile
from worker.strength.profiles import Section, angle, circle, each_alone, glued_along, rectangle, tee
from worker.truss.model import Member, Truss


def shape(profile: Profile) -> Section:
    """One stick as it lies in the truss.

    A flat stick lies flat: its wide face, which is lapped and glued, in the plane of the truss
    (common practice, because side trusses are built lying on a board).
    """
    if profile.kind == "round":
        return circle(*profile.sides_mm)
    if profile.kind == "L":
        return angle(*profile.sides_mm)
    if profile.kind == "T":
        return tee(*profile.sides_mm)
    thin, wide = sorted(profile.sides_mm)
    return rectangle(wide, thin)


@lru_cache(maxsize=256)
def section(stick: Stick, count: int, glued: Glued = "along") -> Section:
    """``count`` sticks side by side, glued wide face to wide face along their length or at the ends only.

    Common practice: a doubled stick acts as one only when it is glued along its length.  Rounds
    touch along a line, which a bead of glue fills.  L and T hold no full face against each other,
    so of these each acts alone.
    """
    one = shape(stick.section)
    if glued == "along" and stick.section.kind in ("rectangle", "round"):
        return glued_along(one, count)
    return each_alone(one, count)


def section_of(member: Member, brief: Brief) -> Section:
    """The section of a member of a class truss."""
    return section(brief.stock[member.stick], member.count, brief.glued)


def with_sections(truss: Truss, brief: Brief, modulus_MPa: float) -> Truss:
    """The truss with the area and the modulus of every member's stick."""
    return replace(truss, members=tuple(_of_stick(member, brief, modulus_MPa) for member in truss.members))


def _of_stick(member: Member, brief: Brief, modulus_MPa: float) -> Member:
    """A member with the area and the modulus of its stick; a variation of a truss has most of them already."""
    area_mm2 = section_of(member, brief).area_mm2
    if (member.area_mm2, member.modulus_MPa) == (area_mm2, modulus_MPa):
        return member
    return replace(member, area_mm2=area_mm2, modulus_MPa=modulus_MPa)
