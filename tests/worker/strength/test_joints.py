"""Glued laps and gussets with numbers that can be checked by hand."""

from __future__ import annotations

import pytest

from rubric.profiles import read_profile
from worker.strength.joints import gussets_N, lap_N, lap_width_mm

WIDTHS = [("6 x 3 mm", 6), ("3 x 6 mm", 6), ("round 4 mm", 4), ("L 12 x 8 x 2 mm", 12), ("L 8 x 12 x 2 mm", 12),
          ("T 12 x 8 x 2 mm", 6)]  # fmt: skip


@pytest.mark.parametrize(("written", "width"), WIDTHS)
def test_the_face_that_is_glued(written: str, width: float) -> None:
    assert lap_width_mm(read_profile(written)) == width


def test_the_weaker_of_glue_and_wood_shears() -> None:
    assert lap_N(12, 5, 1, glue_MPa=5, wood_MPa=2.1) == pytest.approx(12 * 5 * 2.1)
    assert lap_N(12, 5, 1, glue_MPa=1.5, wood_MPa=2.1) == pytest.approx(12 * 5 * 1.5)


def test_each_glued_face_counts() -> None:
    assert lap_N(12, 5, 3, 5, 2.1) == pytest.approx(3 * lap_N(12, 5, 1, 5, 2.1))


def test_two_gussets_tear_over_the_width_of_the_stick() -> None:
    assert gussets_N(0.5, 5, 20) == pytest.approx(2 * 0.5 * 5 * 20)
