"""Laws of strength by density: units, growth and which wood follows which."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from worker.strength.density import any_wood, balsa, by_density, hardwood, softwood, specific_gravity


def test_water_weighs_1000_and_wood_holds_12_percent_of_it() -> None:
    assert specific_gravity(1120) == 1
    assert specific_gravity(448) == pytest.approx(0.4)


def test_at_a_specific_gravity_of_one_a_law_shows_its_factors() -> None:
    hard, soft = hardwood(1.0), softwood(1.0)
    assert (hard.modulus_MPa, hard.tension_MPa, hard.compression_MPa, hard.shear_MPa) == (16500, 171.3, 76.0, 21.9)
    assert (soft.modulus_MPa, soft.tension_MPa, soft.compression_MPa, soft.shear_MPa) == (20500, 170.7, 93.7, 16.6)
    one_psi, any_one = 0.006894757293168, any_wood(1.0)
    assert any_one.modulus_MPa == pytest.approx(2_800_000 * one_psi, rel=1e-9)
    assert any_one.tension_MPa == pytest.approx(25_700 * one_psi, rel=1e-9)
    assert any_one.compression_MPa == pytest.approx(12_200 * one_psi, rel=1e-9)
    assert any_one.shear_MPa is None


def test_each_kind_of_wood_follows_its_own_law() -> None:
    assert by_density("hardwood", 560) == hardwood(0.5)
    assert by_density("softwood", 560) == softwood(0.5)
    assert by_density(None, 560) == any_wood(0.5)
    assert by_density("balsa", 160) == balsa(160)


def test_balsa_half_as_dense_is_half_as_strong_and_half_as_stiff() -> None:
    row, half = balsa(180), balsa(90)
    assert (row.modulus_MPa, row.tension_MPa, row.compression_MPa, row.shear_MPa) == (3400, 21.6, 14.9, 2.1)
    assert (half.modulus_MPa, half.tension_MPa) == pytest.approx((1700, 10.8))
    assert (half.compression_MPa, half.shear_MPa) == pytest.approx((7.45, 1.05))


@given(kind=st.sampled_from(["hardwood", "softwood", "balsa", None]), density=st.floats(60, 900))
def test_denser_wood_is_stronger_and_stiffer_by_every_law(kind, density) -> None:
    light, dense = by_density(kind, density), by_density(kind, density * 1.1)
    assert dense.modulus_MPa > light.modulus_MPa
    assert dense.tension_MPa > light.tension_MPa
    assert dense.compression_MPa > light.compression_MPa
    assert light.shear_MPa is None or dense.shear_MPa > light.shear_MPa
