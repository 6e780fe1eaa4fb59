"""How the sticks of a kit lie in the truss."""

from __future__ import annotations

import pytest

from rubric import library
from rubric.brief import Stick
from worker.strength.profiles import angle, circle, rectangle, tee
from worker.strength.sections import section, section_of, shape, with_sections
from worker.truss.model import Member, Truss


def stick(written: str) -> Stick:
    return Stick.model_validate({"section": written, "length": 900, "count": 1})


@pytest.mark.parametrize("written", ["6 x 3 mm", "3 x 6 mm"])
def test_a_flat_stick_lies_flat_in_the_truss(written: str) -> None:
    assert shape(stick(written).section) == rectangle(6, 3)


def test_each_word_for_a_section_makes_its_shape() -> None:
    assert shape(stick("round 4 mm").section) == circle(4)
    assert shape(stick("L 12 x 8 x 2 mm").section) == angle(12, 8, 2)
    assert shape(stick("T 12 x 8 x 2 mm").section) == tee(12, 8, 2)


@pytest.mark.parametrize("written", ["6 x 3 mm", "round 4 mm"])
def test_glued_along_two_sticks_are_far_stiffer_sideways_than_at_the_ends(written: str) -> None:
    along, ends = section(stick(written), 2), section(stick(written), 2, "at the ends")
    assert along.area_mm2 == ends.area_mm2
    assert along.in_plane_mm4 == pytest.approx(ends.in_plane_mm4)
    assert along.out_of_plane_mm4 >= 4 * ends.out_of_plane_mm4 * (1 - 1e-12)


@pytest.mark.parametrize("written", ["L 12 x 8 x 2 mm", "T 12 x 8 x 2 mm"])
def test_two_built_up_sticks_act_each_alone_however_they_are_glued(written: str) -> None:
    one, two = section(stick(written), 1), section(stick(written), 2)
    assert two.radius_of_gyration_mm == pytest.approx(one.radius_of_gyration_mm)
    assert two.area_mm2 == 2 * one.area_mm2
    assert two == section(stick(written), 2, "at the ends")


def test_the_truss_is_filled_in_as_the_brief_glues() -> None:
    brief = library.brief("footbridge")
    double = Member("a-b", "a", "b", "square5", 2)
    truss = Truss({"a": (0.0, 0.0), "b": (100.0, 0.0)}, (double,))
    filled = with_sections(truss, brief, 3400.0).members[0]
    assert (filled.area_mm2, filled.modulus_MPa, filled.count) == (50, 3400, 2)
    apart = brief.model_copy(update={"glued": "at the ends"})
    assert section_of(double, brief).weaker_second_moment_mm4 == pytest.approx(2 * 5**4 / 12)
    assert section_of(double, brief).out_of_plane_mm4 == pytest.approx(8 * 5**4 / 12)
    assert section_of(double, apart).out_of_plane_mm4 == pytest.approx(2 * 5**4 / 12)
