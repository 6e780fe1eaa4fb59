"""Cross-sections of sticks, and the truss with them filled in."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from rubric.brief import Brief, Stick
from worker.truss.model import Member, Truss


@dataclass(frozen=True)
class Section:
    """A solid rectangle, ``width_mm`` x ``depth_mm``."""

    width_mm: float
    depth_mm: float

    @property
    def area_mm2(self) -> float:
        """A = b d."""
        return self.width_mm * self.depth_mm

    @property
    def weaker_second_moment_mm4(self) -> float:
        """I = b d^3 / 12 about the weaker axis (any strength-of-materials text)."""
        small, large = sorted((self.width_mm, self.depth_mm))
        return large * small**3 / 12

    @property
    def radius_of_gyration_mm(self) -> float:
        """r = sqrt(I / A) about the weaker axis."""
        return math.sqrt(self.weaker_second_moment_mm4 / self.area_mm2)


def section(stick: Stick, count: int) -> Section:
    """``count`` sticks glued wide face to wide face along their whole length, acting as one.

    Common practice: a doubled stick acts as one only when it is glued along its length.
    """
    thin, wide = sorted(stick.section_mm)
    return Section(wide, count * thin)


def section_of(member: Member, brief: Brief) -> Section:
    """The section of a member of a class truss."""
    return section(brief.stock[member.stick], member.count)


def with_sections(truss: Truss, brief: Brief, modulus_MPa: float) -> Truss:
    """The truss with the area and the modulus of every member's stick."""
    return replace(
        truss,
        members=tuple(
            replace(member, area_mm2=section_of(member, brief).area_mm2, modulus_MPa=modulus_MPa)
            for member in truss.members
        ),
    )
