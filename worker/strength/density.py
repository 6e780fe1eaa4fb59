"""Strength from density: means for clear, straight-grained wood at 12 % moisture, along the grain.

G is the specific gravity (oven-dry mass, volume at 12 %), so that the density at 12 % moisture is
1120 G kg/m3.  Strengths and moduli in MPa.  Bending strength stands in for tension (Wood Handbook
practice for clear wood).  A law gives the mean over species; a single wood may lie a fifth off.
"""

from __future__ import annotations

from dataclasses import dataclass

from rubric.quantities import STRESS_UNITS
from rubric.woods import WOODS, Kind

PSI = STRESS_UNITS["psi"]
DENSITY_OF_G_KG_M3 = 1120.0
"""Water's 1000 kg/m3 with the 12 % of moisture on top."""


@dataclass(frozen=True)
class Strengths:
    """Along the grain, MPa; ``shear_MPa`` is None where the law gives none."""

    modulus_MPa: float
    tension_MPa: float
    compression_MPa: float
    shear_MPa: float | None


def specific_gravity(density_kg_m3: float) -> float:
    """G of a density at 12 % moisture."""
    return density_kg_m3 / DENSITY_OF_G_KG_M3


def hardwood(G: float) -> Strengths:
    """Wood Handbook FPL-GTR-190, Table 5-11, hardwoods at 12 % (from memory; gives the balsa row at G = 0.16)."""
    return Strengths(16500 * G**0.7, 171.3 * G**1.13, 76.0 * G**0.89, 21.9 * G**1.13)


def softwood(G: float) -> Strengths:
    """Wood Handbook FPL-GTR-190, Table 5-11, softwoods at 12 % (from memory; near the Sitka row at G = 0.40)."""
    return Strengths(20500 * G**0.84, 170.7 * G**1.01, 93.7 * G**0.97, 16.6 * G**0.85)


def any_wood(G: float) -> Strengths:
    """Forest Products Laboratory, 12 %, in TM 5-852-4, Table 2-2: 25,700 G^1.25, 2,800,000 G and 12,200 G psi."""
    return Strengths(2_800_000 * G * PSI, 25_700 * G**1.25 * PSI, 12_200 * G * PSI, None)


def balsa(density_kg_m3: float) -> Strengths:
    """In proportion to density, through the Wood Handbook's balsa row.

    Borrega and Gibson (Mechanics of Materials 84, 2015) found stiffness and strength in axial
    compression and bending linear in density from 60 to 380 kg/m3.  That the line goes through
    nought is the theory of cell walls loaded along the grain; the slope is the handbook's.
    """
    row = WOODS["balsa"]
    part = density_kg_m3 / row.density_kg_m3
    return Strengths(row.modulus_MPa * part, row.tension_MPa * part, row.compression_MPa * part, row.shear_MPa * part)


def by_density(kind: Kind | None, density_kg_m3: float) -> Strengths:
    """By the law for that kind of wood; None for a wood that no table names."""
    if kind == "balsa":
        return balsa(density_kg_m3)
    law = {"hardwood": hardwood, "softwood": softwood, None: any_wood}[kind]
    return law(specific_gravity(density_kg_m3))
