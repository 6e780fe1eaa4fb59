"""Default wood values against the published tables they are taken from."""

from __future__ import annotations

import pytest

from rubric.brief import Wood as Given
from rubric.woods import WOODS
from worker.strength.wood import wood

PUBLISHED = [
    # USDA Wood Handbook FPL-GTR-190, Table 5-5: balsa, 12 %
    ("balsa", "modulus_MPa", 3400, 0.0),
    ("balsa", "compression_MPa", 14.9, 0.0),
    # pages quoting the Wood Handbook: American basswood, 12 %; the green row (7.2 GPa, 15.3 MPa) is a trap
    ("basswood", "modulus_MPa", 10100, 0.0),
    ("basswood", "compression_MPa", 32.6, 0.0),
    # producers' data sheets: Sitka spruce 11.2 GPa; the Handbook's 10.8 from memory
    ("spruce", "modulus_MPa", 11200, 0.05),
    # MatWeb: eastern white pine
    ("pine", "tension_MPa", 78.0, 0.0),
    ("pine", "compression_MPa", 33.0, 0.005),
    # pages quoting the Wood Handbook: paper birch
    ("birch", "modulus_MPa", 10960, 0.0),
    ("birch", "compression_MPa", 39.2, 0.0),
]


@pytest.mark.parametrize(("material", "name", "value", "tolerance"), PUBLISHED)
def test_a_default_is_the_published_mean(material: str, name: str, value: float, tolerance: float) -> None:
    found = wood(Given.model_validate({"material": material}))
    assert getattr(found, name) == pytest.approx(value, rel=tolerance)


def test_every_wood_names_its_source() -> None:
    assert all("Handbook" in known.source or "MatWeb" in known.source for known in WOODS.values())


def test_a_brief_may_give_its_own_values_and_keeps_the_rest() -> None:
    own = wood(Given.model_validate({"material": "balsa", "density": "0.12 g/cm3", "compression": "9 MPa"}))
    assert (own.density_kg_m3, own.compression_MPa, own.modulus_MPa) == (120.0, 9.0, 3400)


def test_handbook_density_law_for_hardwoods_gives_the_balsa_row_at_its_specific_gravity() -> None:
    """GTR-190 Table 5-11, hardwoods at 12 %: compression 76.0 G^0.89 MPa, bending 171.3 G^1.13 MPa (from memory)."""
    assert WOODS["balsa"].compression_MPa == pytest.approx(76.0 * 0.16**0.89, rel=0.01)
    assert WOODS["balsa"].tension_MPa == pytest.approx(171.3 * 0.16**1.13, rel=0.01)
