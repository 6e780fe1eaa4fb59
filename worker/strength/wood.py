"""The wood of a brief: its own values where it gives them, published means elsewhere."""

from __future__ import annotations

from dataclasses import dataclass

from rubric.brief import Wood as Given
from rubric.woods import WOODS
from worker.strength.scatter import Scatter as Scatter


@dataclass(frozen=True)
class Wood:
    """Mean values along the grain: kg/m3 and MPa."""

    density_kg_m3: float
    modulus_MPa: float
    tension_MPa: float
    compression_MPa: float
    shear_MPa: float


def wood(given: Given) -> Wood:
    """The values to compute with.

    A brief that gives a density but no strengths keeps the published strengths of the material:
    the mass follows the density, the strengths do not.
    """
    known = WOODS.get(given.material)

    def value(name: str) -> float:
        own = getattr(given, name)
        return float(own if own is not None else getattr(known, name))

    return Wood(
        density_kg_m3=value("density_kg_m3"),
        modulus_MPa=value("modulus_MPa"),
        tension_MPa=value("tension_MPa"),
        compression_MPa=value("compression_MPa"),
        shear_MPa=value("shear_MPa"),
    )
