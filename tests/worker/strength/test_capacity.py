"""What one member can carry, mode by mode, with numbers that can be checked by hand."""

from __future__ import annotations

import math

import pytest

from rubric import library
from rubric.brief import Brief, Stick
from tests.corpus.mistaken import G as GOOD
from worker.strength.capacity import Capacity, capacity
from worker.strength.sections import section
from worker.strength.wood import wood
from worker.truss.model import Member
from worker.truss.reader import read_truss

BRIEF = library.brief("footbridge")
WOOD = wood(BRIEF.wood)
TRUSS = read_truss(GOOD.encode(), BRIEF)


def stick(width: float, depth: float) -> Stick:
    return Stick.model_validate({"section": [width, depth], "length": 900, "count": 1})


def of(name: str, brief: Brief = BRIEF, count: int = 1) -> Capacity:
    member = next(member for member in TRUSS.members if member.name == name)
    return capacity(TRUSS, Member(name, member.start, member.end, member.stick, count), brief, WOOD)


def test_two_flat_sticks_are_glued_wide_face_to_wide_face() -> None:
    double = section(stick(6, 3), 2)
    assert (double.width_mm, double.depth_mm) == (6, 6)
    assert double.weaker_second_moment_mm4 == pytest.approx(6**4 / 12)


def test_two_square_sticks_have_twice_the_weaker_second_moment_of_one() -> None:
    single, double = section(stick(5, 5), 1), section(stick(5, 5), 2)
    assert double.weaker_second_moment_mm4 == pytest.approx(2 * single.weaker_second_moment_mm4)
    assert double.area_mm2 == 50


def test_tension_and_crushing_are_strength_times_area() -> None:
    assert of("b-d").tension_N == pytest.approx(21.6 * 9)
    assert of("b-d").crushing_N == pytest.approx(14.9 * 9)


def test_a_slender_strut_buckles_at_eulers_force() -> None:
    second_moment = 5**4 / 12
    assert of("a-d").buckling_N == pytest.approx(math.pi**2 * 3400 * second_moment / (300**2 + 150**2))


def test_the_joint_shears_in_the_wood_where_the_glue_is_stronger() -> None:
    assert of("a-b").joint_N == pytest.approx(12 * 5 * 2.1)
    assert of("a-b", count=2).joint_N == pytest.approx(2 * 12 * 5 * 2.1)


def test_without_glue_in_the_brief_no_joint_is_checked() -> None:
    dry = BRIEF.model_copy(update={"glue": None})
    assert of("a-b", dry).joint_N is None
    assert of("a-b", dry).governs(10.0) == (21.6 * 25, "tension")


def test_the_mode_that_governs_is_the_one_with_the_least_capacity() -> None:
    assert of("a-b").governs(10.0) == (126.0, "joint")
    assert of("a-d").governs(-10.0)[1] == "buckling"
    assert of("a-d").governs(0.0) == (None, "none")


def test_a_short_strut_is_said_to_crush() -> None:
    short = Capacity(tension_N=100, crushing_N=100, buckling_N=96, joint_N=None, slenderness=10)
    assert short.governs(-1.0) == (96, "crushing")


def test_the_effective_length_factor_of_the_brief_counts() -> None:
    fixed = BRIEF.model_copy(update={"effective_length": 0.5})
    assert of("a-d", fixed).slenderness == pytest.approx(of("a-d").slenderness / 2)
