"""Both ways a strut can buckle, and the limits on how slender it may be."""

from __future__ import annotations

import math

import pytest

from rubric import library
from rubric.brief import Brief
from worker.strength.profiles import angle, rectangle
from worker.strength.slenderness import Slenderness, slenderness, slenderness_of, too_slender
from worker.truss.model import Member, Truss

BRIEF = library.brief("footbridge")
TRUSS = Truss({"a": (0.0, 0.0), "b": (100.0, 0.0), "c": (0.0, 250.0)}, (
    Member("a-b", "a", "b", "square5"), Member("a-c", "a", "c", "square5"), Member("b-c", "b", "c", "square3")))  # fmt: skip
ROOT12 = math.sqrt(12)


def brief(**changes: object) -> Brief:
    return BRIEF.model_copy(update=changes)


def limited(most: float) -> Brief:
    return brief(limits=BRIEF.limits.model_copy(update={"slenderness": most}))


def of(name: str, asked: Brief) -> Slenderness:
    return slenderness_of(TRUSS, next(m for m in TRUSS.members if m.name == name), asked)


def test_a_flat_stick_buckles_out_of_plane_where_nothing_holds_it() -> None:
    found = slenderness(rectangle(6, 3), 100, 100)
    assert (found.in_plane, found.out_of_plane) == pytest.approx((100 * ROOT12 / 6, 100 * ROOT12 / 3))
    assert found.governing == found.out_of_plane
    assert found.axis == "out of plane"


def test_held_sideways_often_it_buckles_in_plane() -> None:
    found = slenderness(rectangle(6, 3), 100, 40)
    assert found.governing == pytest.approx(100 * ROOT12 / 6)
    assert found.axis == "in plane"


def test_where_both_ways_are_alike_it_says_either() -> None:
    assert slenderness(rectangle(6, 3), 100, 50).axis == "either"
    assert Slenderness(100, 100 * (1 + 5e-10)).axis == "either"
    assert Slenderness(100, 100 * (1 + 2e-9)).axis == "out of plane"
    assert Slenderness(100 * (1 + 2e-9), 100).axis == "in plane"


@pytest.mark.parametrize("lengths", [(100, 40), (40, 100)])
def test_an_angle_counts_with_its_weakest_axis_and_the_longer_length(lengths: tuple[float, float]) -> None:
    section = angle(10, 8, 1.5)
    found = slenderness(section, *lengths)
    assert found.governing == found.in_plane == found.out_of_plane
    assert found.governing == pytest.approx(100 / section.radius_of_gyration_mm)
    assert found.axis == "askew"


def test_without_bracing_a_member_is_free_from_joint_to_joint_both_ways() -> None:
    found = of("a-c", BRIEF)
    assert (found.in_plane, found.out_of_plane) == pytest.approx((250 * ROOT12 / 5, 250 * ROOT12 / 5))


def test_bracing_is_the_free_length_out_of_plane_alone() -> None:
    found = of("a-c", brief(bracing_mm=150.0))
    assert (found.in_plane, found.out_of_plane) == pytest.approx((250 * ROOT12 / 5, 150 * ROOT12 / 5))
    assert of("a-b", brief(bracing_mm=150.0)).axis == "out of plane"


def test_the_effective_length_factor_counts_both_ways() -> None:
    found = of("a-c", brief(bracing_mm=150.0, effective_length=0.5))
    assert (found.in_plane, found.out_of_plane) == pytest.approx((125 * ROOT12 / 5, 75 * ROOT12 / 5))


def test_a_strut_beyond_the_briefs_limit_is_named_with_its_number() -> None:
    assert too_slender(TRUSS, limited(150), {"a-b": -1.0, "a-c": -2.0, "b-c": 3.0}) == (
        "Strut a-c has a slenderness of 173; the brief allows 150.",
    )


def test_ties_and_idle_members_are_not_bound_by_slenderness() -> None:
    assert too_slender(TRUSS, limited(150), {"a-b": -1.0, "a-c": 2.0, "b-c": 0.0}) == ()
    assert too_slender(TRUSS, limited(150), {}) == ()


def test_a_strut_just_at_the_limit_keeps_it() -> None:
    exact = of("a-c", BRIEF).governing
    forces = {"a-c": -1.0}
    assert too_slender(TRUSS, limited(exact), forces) == ()
    assert too_slender(TRUSS, limited(exact * (1 + 1e-10)), forces) == ()
    assert too_slender(TRUSS, limited(exact * (1 - 1e-8)), forces) != ()


def test_the_nds_itself_allows_no_strut_beyond_50_times_its_thickness() -> None:
    nds = brief(column_curve="NDS", bracing_mm=50.0)
    long = Truss({"a": (0.0, 0.0), "b": (250.0, 0.0), "c": (500.2, 0.0)}, (
        Member("a-b", "a", "b", "square5"), Member("b-c", "b", "c", "square5")))  # fmt: skip
    assert too_slender(long, nds, {"a-b": -1.0}) == ()
    said = "Strut b-c is 50 times as long as it is thick; the NDS allows no strut beyond 50 times."
    assert too_slender(long, nds, {"a-b": -1.0, "b-c": -1.0}) == (said,)
    assert too_slender(long, brief(bracing_mm=50.0), {"a-b": -1.0, "b-c": -1.0}) == ()


def test_without_a_limit_no_strut_is_too_slender() -> None:
    assert too_slender(TRUSS, BRIEF, {"a-c": -1.0, "b-c": -1.0}) == ()


def test_the_most_slender_strut_is_named_whatever_the_order_of_names() -> None:
    said = too_slender(TRUSS, limited(50), {"a-b": -1.0, "a-c": -1.0, "b-c": 1.0})
    assert said[0].startswith("Strut a-c has")
    turned = Truss(TRUSS.joints, (Member("z", "a", "b", "square5"), Member("y", "a", "c", "square5")))
    assert too_slender(turned, limited(50), {"z": -1.0, "y": -1.0})[0].startswith("Strut y has")
