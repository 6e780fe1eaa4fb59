"""Default wood values: clear, straight-grained wood at 12 % moisture, means, and how much they scatter.

Densities in kg/m3, moduli and strengths in MPa.  ``tension`` along the grain is rarely
tabulated; where it is not, the bending strength stands in (Wood Handbook practice, common
practice for clear wood).  All are means of clear wood: a stick with a knot or sloping grain
is weaker.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal["hardwood", "softwood", "balsa"]
"""Which law ties strength to density: see ``worker/strength/density.py``."""


@dataclass(frozen=True)
class WoodValues:
    """Mean values of one species and where they were published."""

    density_kg_m3: float
    modulus_MPa: float
    tension_MPa: float
    compression_MPa: float
    shear_MPa: float
    source: str
    kind: Kind = "hardwood"


_HANDBOOK = "USDA Wood Handbook FPL-GTR-190"

WOODS: dict[str, WoodValues] = {
    "balsa": WoodValues(
        180,
        3400,
        21.6,
        14.9,
        2.1,
        f"{_HANDBOOK}, Table 5-5; density, bending and shear from memory of that table",
        "balsa",
    ),
    "basswood": WoodValues(
        398, 10100, 60.0, 32.6, 6.8, f"pages quoting the {_HANDBOOK}; density the middle of 381 to 415"
    ),
    "spruce": WoodValues(
        430,
        10800,
        59.3,
        38.7,
        7.9,
        f"{_HANDBOOK}, Sitka spruce, from memory; producers' sheets give 11200 MPa",
        "softwood",
    ),
    "pine": WoodValues(
        350, 8430, 78.0, 33.0, 6.2, "MatWeb, eastern white pine; modulus the middle of 8300 to 8560", "softwood"
    ),
    "birch": WoodValues(
        616,
        10960,
        85.0,
        39.2,
        8.3,
        f"pages quoting the {_HANDBOOK}, paper birch, SG 0.55; bending from memory",
    ),
}

LAW_RANGES_KG_M3: dict[str, tuple[float, float]] = {
    "balsa": (60.0, 380.0),
    "hardwood": (250.0, 1200.0),
    "softwood": (250.0, 800.0),
    "any": (250.0, 1200.0),
}
"""Densities between which strengths may follow the density, by kind; ``any`` is a wood that no table names.

Balsa: Borrega and Gibson 2015.  The others: about the lightest and the heaviest species of the tables
behind the laws (common practice).
"""


@dataclass(frozen=True)
class Spread:
    """A coefficient of variation (standard deviation over mean) and where it was published."""

    cov: float
    source: str


_TABLE_OF_SCATTER = f"{_HANDBOOK}, Table 5-6"

SCATTER: dict[str, Spread] = {
    "tension": Spread(0.25, f"{_TABLE_OF_SCATTER}, tension parallel to grain, from memory"),
    "compression": Spread(0.18, f"{_TABLE_OF_SCATTER}, compression parallel to grain"),
    "shear": Spread(0.14, f"{_TABLE_OF_SCATTER}, shear parallel to grain, from memory"),
    "modulus": Spread(0.22, f"{_TABLE_OF_SCATTER}, modulus of elasticity"),
    "density": Spread(0.10, f"{_TABLE_OF_SCATTER}, specific gravity, from memory"),
    "glue": Spread(0.15, "an assumption: carefully made joints, no published value at hand"),
}
"""Scatter of each property from stick to stick, from the table's averages over species."""
