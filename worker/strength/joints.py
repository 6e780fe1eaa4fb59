"""What a glued joint carries: by lap, or under gussets.

Forces N, lengths mm, stresses MPa.  The rules are common practice for stick bridges: shear spread
evenly over the glued area, nothing for the blunt end of a stick that butts against another.
"""

from __future__ import annotations

from rubric.profiles import Profile

GUSSETS = 2
"""One plate on either face of the truss."""


def lap_width_mm(profile: Profile) -> float:
    """Width of the face that is glued.

    Flat stick: its wide face.  Round: the diameter, the end being halved.  L: the wider leg.
    T: the stem, clear of the flange.
    """
    if profile.kind == "T":
        return profile.sides_mm[1] - profile.sides_mm[2]
    return max(profile.sides_mm)


def lap_N(lap_mm: float, width_mm: float, faces: int, glue_MPa: float, wood_MPa: float) -> float:
    """Shear over ``faces`` laps: lap x width x faces x the smaller shear strength.

    The glue shears, or the wood beside it; in balsa the wood shears first.
    """
    return lap_mm * width_mm * faces * min(glue_MPa, wood_MPa)


def gussets_N(thickness_mm: float, width_mm: float, strength_MPa: float) -> float:
    """Two plates torn across the end of a stick: 2 x thickness x width of the stick x tensile strength.

    The force is not taken to spread out in the plate (on the safe side).
    """
    return GUSSETS * thickness_mm * width_mm * strength_MPa
