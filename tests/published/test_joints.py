"""Glued joints against the shear strengths that standards and tables give."""

from __future__ import annotations

import pytest

from rubric.woods import WOODS
from worker.strength.joints import lap_N


def test_an_en_205_lap_of_strong_wood_carries_what_en_204_asks_of_its_glue() -> None:
    """EN 204 asks at least 10 MPa dry over the 20 x 10 mm lap of EN 205 beech pieces (from memory): 2000 N."""
    assert lap_N(10, 20, 1, glue_MPa=10, wood_MPa=13) == pytest.approx(2000)


def test_in_balsa_the_wood_shears_before_a_glue_of_en_204() -> None:
    """Wood Handbook, Table 5-5: balsa shears at 2.1 MPa; 12 x 5 mm of lap carries 126 N whatever the glue."""
    wood = WOODS["balsa"].shear_MPa
    assert lap_N(12, 5, 1, 10, wood) == pytest.approx(126) == lap_N(12, 5, 1, 5, wood)
