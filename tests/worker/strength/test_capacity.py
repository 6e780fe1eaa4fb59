"""What one member can carry, mode by mode, with numbers that can be checked by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric import library
from rubric.brief import Brief, Stick
from tests.corpus.mistaken import G as GOOD
from worker.strength.capacity import Capacity, capacity
from worker.strength.columns import CURVES
from worker.strength.scatter import at_fractile
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


def with_glue(**changes: object) -> Brief:
    return Brief.model_validate(BRIEF.model_dump() | {"glue": BRIEF.glue.model_dump() | changes})  # type: ignore[union-attr]


def changed(**changes: object) -> Brief:
    return Brief.model_validate(BRIEF.model_dump() | {key.replace("_", " "): value for key, value in changes.items()})


@pytest.mark.parametrize("word", CURVES)
def test_the_brief_chooses_the_column_curve(word: str) -> None:
    found = of("a-d", changed(column_curve=word))
    assert found.buckling_N == pytest.approx(25 * CURVES[word](3400, 14.9, found.slenderness))  # type: ignore[index]


def test_the_column_modulus_of_the_brief_counts_in_buckling_alone() -> None:
    soft = changed(wood={"material": "balsa", "column modulus": "1.7 GPa"})
    member = next(member for member in TRUSS.members if member.name == "a-d")
    found = capacity(TRUSS, member, soft, wood(soft.wood))
    assert found.buckling_N == pytest.approx(of("a-d").buckling_N / 2)
    assert found.crushing_N == of("a-d").crushing_N


def test_it_says_which_way_a_strut_buckles() -> None:
    assert of("a-d").axis == "either"
    assert of("a-d", changed(bracing="400 mm")).axis == "out of plane"
    assert of("a-d", changed(bracing="100 mm")).axis == "in plane"
    assert of("a-d", count=2).axis == "in plane"


def test_bracing_lets_a_doubled_strut_carry_no_more_than_its_plane_allows() -> None:
    braced, free = of("a-d", changed(bracing="50 mm"), count=2), of("a-d", count=2)
    assert braced.slenderness == pytest.approx(free.slenderness)
    assert of("a-d", changed(bracing="900 mm"), count=2).buckling_N < free.buckling_N


def test_two_sticks_glued_at_the_ends_alone_carry_twice_what_one_carries() -> None:
    ends = changed(glued="at the ends", bracing="500 mm")
    assert of("a-d", ends, count=2).buckling_N == pytest.approx(2 * of("a-d", ends).buckling_N)
    along = changed(bracing="500 mm")
    assert of("a-d", along, count=2).buckling_N > 2.5 * of("a-d", along).buckling_N


def test_under_gussets_both_faces_of_a_stick_are_glued() -> None:
    plate = with_glue(gusset={"thickness": 5, "strength": 20})
    assert of("a-b", plate).joint_N == pytest.approx(2 * 12 * 5 * 2.1)
    assert of("a-b", plate, count=2).joint_N == of("a-b", plate).joint_N


def test_thin_gussets_tear() -> None:
    assert of("a-b", with_glue(gusset={"thickness": 0.2, "strength": 20})).joint_N == pytest.approx(2 * 0.2 * 5 * 20)


def test_weak_glue_lets_go_before_the_wood_shears() -> None:
    assert of("a-b", with_glue(strength=1.5)).joint_N == pytest.approx(12 * 5 * 1.5)
    assert of("a-b", with_glue(strength=1.5, gusset={"thickness": 5, "strength": 20})).joint_N == pytest.approx(180)


def test_a_lower_level_lowers_glue_and_gussets_too() -> None:
    low = {"material": "balsa", "strength level": "5 % fractile"}
    weak = BRIEF.model_dump() | {"wood": low, "glue": {"strength": 1, "lap": 12}}
    assert of("a-b", Brief.model_validate(weak)).joint_N == pytest.approx(60 * at_fractile(1, 0.15, 0.05))
    thin = weak | {"glue": {"strength": 9, "lap": 12, "gusset": {"thickness": 0.2, "strength": 20}}}
    assert of("a-b", Brief.model_validate(thin)).joint_N == pytest.approx(40 * at_fractile(1, 0.25, 0.05))


@pytest.mark.parametrize(("buckling", "mode"), [(95.0, "crushing"), (94.9, "buckling"), (100.0, "crushing")])
def test_a_strut_that_keeps_95_percent_of_its_crushing_force_crushes(buckling: float, mode: str) -> None:
    strut = Capacity(tension_N=500, crushing_N=100, buckling_N=buckling, joint_N=500, slenderness=10)
    assert strut.governs(-1.0) == (buckling, mode)
    assert strut.axis == "either"


def test_where_joint_and_wood_are_equally_strong_the_wood_is_named() -> None:
    even = Capacity(tension_N=100, crushing_N=100, buckling_N=50, joint_N=100, slenderness=10)
    assert even.governs(1.0) == (100, "tension")
    assert even.governs(-1.0) == (50, "buckling")
    assert Capacity(100, 100, 50, 49, 10).governs(-1.0) == (49, "joint")


SIZES = st.floats(1.0, 20.0)


@given(width=SIZES, depth=SIZES, more=st.floats(1.0, 2.0), word=st.sampled_from(list(CURVES)))
def test_a_thicker_stick_never_carries_less_in_any_mode(width, depth, more, word) -> None:
    def found(w: float, d: float) -> Capacity:
        stock = {"square5": {"section": [w, d], "length": 900, "count": 1}}
        return of("a-d", Brief.model_validate(BRIEF.model_dump() | {"stock": stock, "column curve": word}))

    thin, thick = found(width, depth), found(width, depth * more)
    for name in ("tension_N", "crushing_N", "buckling_N", "joint_N"):
        assert getattr(thick, name) >= getattr(thin, name) * (1 - 1e-12)


@given(shorter=st.floats(0.3, 1.0), word=st.sampled_from(list(CURVES)), count=st.integers(1, 3))
def test_a_shorter_strut_never_carries_less(shorter: float, word: str, count: int) -> None:
    member = replace(next(m for m in TRUSS.members if m.name == "a-d"), count=count)
    joints = {name: (x * shorter, y * shorter) for name, (x, y) in TRUSS.joints.items()}
    brief = changed(column_curve=word)
    short, long = (capacity(truss, member, brief, WOOD) for truss in (replace(TRUSS, joints=joints), TRUSS))
    assert short.buckling_N >= long.buckling_N * (1 - 1e-12)
    assert short.tension_N == long.tension_N
