"""Default wood values: clear, straight-grained wood at 12 % moisture, means.

Densities in kg/m3, moduli and strengths in MPa.  ``tension`` along the grain is rarely
tabulated; where it is not, the bending strength stands in (Wood Handbook practice, common
practice for clear wood).  All are means of clear wood: a stick with a knot or sloping grain
is weaker.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class WoodValues:
    """Mean values of one species and where they were published."""

    density_kg_m3: float
    modulus_MPa: float
    tension_MPa: float
    compression_MPa: float
    shear_MPa: float
    source: str


_HANDBOOK = "USDA Wood Handbook FPL-GTR-190"

WOODS: dict[str, WoodValues] = {
    "balsa": WoodValues(
        180,
        3400,
        21.6,
        14.9,
        2.1,
        f"{_HANDBOOK}, Table 5-5; density, bending and shear from memory of that table",
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
    ),
    "pine": WoodValues(350, 8430, 78.0, 33.0, 6.2, "MatWeb, eastern white pine; modulus the middle of 8300 to 8560"),
    "birch": WoodValues(
        616,
        10960,
        85.0,
        39.2,
        8.3,
        f"pages quoting the {_HANDBOOK}, paper birch, SG 0.55; bending from memory",
    ),
}
