"""Which values of the wood are used: the brief's, a table's, a law's, and at which level."""

from __future__ import annotations

import pytest

from rubric.brief import Wood as Given
from worker.strength.density import any_wood, balsa, hardwood
from worker.strength.scatter import Scatter, at_fractile
from worker.strength.wood import Wood, at_level, scatter, wood


def given(**keys: object) -> Given:
    return Given.model_validate({key.replace("_", " "): value for key, value in keys.items()})


def test_the_table_is_the_default_and_the_column_curve_sees_the_same_modulus() -> None:
    assert wood(given(material="balsa")) == Wood(180, 3400, 21.6, 14.9, 2.1, 3400, 21.6)


def test_a_density_changes_strengths_only_where_the_brief_says_so() -> None:
    table, law = wood(given(material="balsa", density="120 kg/m3")), balsa(120)
    assert (table.density_kg_m3, table.compression_MPa) == (120, 14.9)
    found = wood(given(material="balsa", density="120 kg/m3", strengths="by density"))
    E, tension = law.modulus_MPa, law.tension_MPa
    assert found == Wood(120, E, tension, law.compression_MPa, law.shear_MPa, E, tension)


def test_by_density_without_a_density_takes_the_tables() -> None:
    found = wood(given(material="birch", strengths="by density"))
    assert found.density_kg_m3 == 616
    assert found.compression_MPa == pytest.approx(hardwood(0.55).compression_MPa)


def test_a_measured_value_counts_before_law_and_table() -> None:
    found = wood(given(material="balsa", strengths="by density", density="90 kg/m3", compression="9 MPa"))
    assert (found.compression_MPa, found.modulus_MPa) == (9, 1700)


def test_a_wood_that_no_table_names_follows_the_general_law() -> None:
    found = wood(given(material="paulownia", density="280 kg/m3", shear="4 MPa", strengths="by density"))
    law = any_wood(0.25)
    assert (found.modulus_MPa, found.tension_MPa, found.compression_MPa, found.shear_MPa) == (
        law.modulus_MPa, law.tension_MPa, law.compression_MPa, 4.0)  # fmt: skip


def test_a_lower_level_lowers_strengths_and_the_column_modulus_but_not_mass_or_stiffness() -> None:
    found = wood(given(material="balsa", strength_level="5 % fractile"))
    assert (found.density_kg_m3, found.modulus_MPa) == (180, 3400)
    assert found.tension_MPa == pytest.approx(at_fractile(21.6, 0.25, 0.05))
    assert found.compression_MPa == pytest.approx(at_fractile(14.9, 0.18, 0.05))
    assert found.shear_MPa == pytest.approx(at_fractile(2.1, 0.14, 0.05))
    assert found.column_modulus_MPa == pytest.approx(at_fractile(3400, 0.22, 0.05))


def test_a_column_modulus_of_the_brief_is_taken_as_it_is() -> None:
    found = wood(given(material="balsa", strength_level="5 % fractile", column_modulus="1.2 GPa"))
    assert (found.column_modulus_MPa, found.modulus_MPa) == (1200, 3400)


def test_the_briefs_scatter_replaces_the_published_one_value_by_value() -> None:
    own = given(material="balsa", scatter={"tension": "30 %", "glue": 0, "distribution": "normal"})
    assert scatter(own) == Scatter(tension=0.3, glue=0.0, distribution="normal")
    assert scatter(given(material="balsa")) == Scatter()


def test_the_level_uses_the_briefs_distribution() -> None:
    own = given(material="balsa", strength_level="10 % fractile", scatter={"distribution": "normal"})
    assert at_level(own, 20, 0.2) == pytest.approx(20 * (1 - 1.2815516 * 0.2))
    assert at_level(given(material="balsa"), 20, 0.2) == 20
