"""The truss with rigid joints, and how it differs from the hinged one."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.opensees import frame_model
from tests.stability_trusses import pyramid
from tests.trusses import AREA_MM2, MODULUS_MPA, pratt, triangulated, warren
from tests.whole import second_moments
from worker.frame import FrameSolution, frame
from worker.statics import StiffnessMissing, solve
from worker.truss.model import Member, Support, Truss

SQUARE6 = 6.0**4 / 12


def square(truss: Truss, side: float = 6.0) -> FrameSolution:
    """Every member a square stick of this side in bending; areas as the truss has them."""
    names = [m.name for m in truss.members]
    return frame(truss, dict.fromkeys(names, side**4 / 12), dict.fromkeys(names, side / 2))


def test_answers_come_by_the_names_and_in_the_order_of_the_file() -> None:
    truss = pratt()
    found = square(truss)
    names = [m.name for m in truss.members]
    assert list(found.forces) == list(found.end_moments) == list(found.bending_MPa) == names
    assert list(found.displacements) == list(found.rotations) == list(truss.joints)


def test_end_moments_follow_the_file_when_a_member_is_named_from_its_other_end() -> None:
    truss = pratt()
    swapped = replace(truss, members=tuple(replace(m, start=m.end, end=m.start) for m in truss.members))
    found, wanted = square(swapped), square(truss)
    for name, (first, second) in wanted.end_moments.items():
        assert found.end_moments[name] == pytest.approx((second, first))


def test_bending_stress_is_the_moment_times_the_half_depth_over_the_second_moment() -> None:
    found = square(warren())
    name = found.bent_member
    assert name is not None
    worst = max(map(abs, found.end_moments[name])) * 3.0 / SQUARE6
    assert found.bending_MPa[name] == pytest.approx(worst)
    assert worst == max(found.bending_MPa.values())
    hinged = max(abs(x) for x in solve(warren()).forces.values()) / AREA_MM2
    assert found.bending_share == pytest.approx(worst / hinged)


def test_the_moments_at_every_joint_are_in_balance() -> None:
    truss = warren()
    total = dict.fromkeys(truss.joints, 0.0)
    found = square(truss)
    for m in truss.members:
        for joint, moment in zip((m.start, m.end), found.end_moments[m.name], strict=True):
            total[joint] += moment
    largest = max(abs(x) for ends in found.end_moments.values() for x in ends)
    assert max(map(abs, total.values())) < 1e-9 * largest


def test_slender_members_draw_no_warning_and_stocky_ones_do() -> None:
    assert square(pratt(6, 75.0, 100.0)).warning is None
    short = square(pratt(6, 30.0, 40.0), side=12.0)
    assert short.bending_share is not None
    assert short.bending_share > 0.3
    assert short.warning == (
        f"Glued joints are not hinges: they bend the members. In member {short.bent_member} bending adds stress of "
        f"{100 * short.bending_share:.0f} % of the largest stress from pulling and pushing. "
        "Longer or thinner members bend less."
    )


def test_a_force_that_changes_much_draws_a_warning_even_where_bending_is_small() -> None:
    truss = pratt(6, 30.0, 40.0)
    names = [m.name for m in truss.members]
    found = frame(truss, dict.fromkeys(names, 20.0**4 / 12), dict.fromkeys(names, 0.01))
    assert found.largest_change is not None
    assert found.warning == (
        "Glued joints are not hinges: with stiff joints the force in a member changes by "
        f"{100 * found.largest_change:.0f} % of the largest force."
    )


def test_a_frame_whose_hinged_truss_is_a_mechanism_is_solved_without_a_comparison() -> None:
    """Two panels of a ladder without diagonals: hinges would let it fall over."""
    joints = {f"{row}{i}": (100.0 * i, 80.0 * (row == "t")) for row in "bt" for i in range(3)}
    pairs = [("b0", "b1"), ("b1", "b2"), ("t0", "t1"), ("t1", "t2"), ("b0", "t0"), ("b1", "t1"), ("b2", "t2")]
    members = tuple(Member(f"{a}-{b}", a, b, area_mm2=AREA_MM2, modulus_MPa=MODULUS_MPA) for a, b in pairs)
    ladder = Truss(joints, members, {"b0": Support.pin(), "b2": Support.roller()}, {"t1": (0.0, -5.0)})
    found = square(ladder)
    theirs = frame_model(ladder, second_moments(ladder))
    assert solve(ladder).state == "mechanism"
    assert found.largest_change is None
    assert found.displacements["t1"] == pytest.approx(theirs.displacements["t1"], rel=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_settlements_and_rotations_agree_with_opensees(seed: int) -> None:
    truss = triangulated(seed, 4 + seed, settles=True)
    found, theirs = square(truss), frame_model(truss, {m.name: SQUARE6 for m in truss.members})
    largest = max(map(abs, theirs.rotations.values()))
    assert found.rotations == pytest.approx(dict(theirs.rotations), abs=1e-9 * largest)
    for joint, movement in theirs.displacements.items():
        assert found.displacements[joint] == pytest.approx(movement, abs=1e-9)


def test_a_bar_too_long_between_two_walls_is_pushed_by_its_misfit() -> None:
    joints = {"a": (0.0, 0.0), "b": (200.0, 0.0)}
    bar = Member("a-b", "a", "b", area_mm2=AREA_MM2, modulus_MPa=MODULUS_MPA)
    tight = Truss(joints, (bar,), dict.fromkeys(joints, Support.pin()), misfits={"a-b": 0.5})
    assert square(tight).forces["a-b"] == pytest.approx(-AREA_MM2 * MODULUS_MPA * 0.5 / 200)


def test_a_misfit_in_a_determinate_truss_moves_it_as_with_hinges_when_members_hardly_bend() -> None:
    truss = replace(warren(), loads={}, misfits={"b2-b3": 1.0})
    found, hinged = square(truss, side=0.01), solve(truss).displacements
    assert hinged is not None
    for joint, movement in hinged.items():
        assert found.displacements[joint] == pytest.approx(movement, abs=1e-6)


def test_a_truss_without_loads_does_not_bend() -> None:
    found = square(replace(warren(), loads={}))
    assert (found.bending_share, found.bent_member, found.largest_change, found.warning) == (None, None, None, None)


@pytest.mark.parametrize("second_moment", [0.0, -1.0, math.inf, math.nan])
def test_a_second_moment_must_be_a_positive_number(second_moment: float) -> None:
    moments = {m.name: SQUARE6 for m in warren().members} | {"b0-b1": second_moment}
    with pytest.raises(ValueError, match="member b0-b1 needs a second moment of area above 0 mm4"):
        frame(warren(), moments, dict.fromkeys(moments, 3.0))


def test_what_cannot_be_a_plane_frame_is_refused_with_its_reason() -> None:
    with pytest.raises(ValueError, match="plane trusses alone"):
        square(pyramid(3, 20.0, 1.0))
    with pytest.raises(ValueError, match="supports do not hold it"):
        square(replace(warren(), supports={"b0": Support.pin()}))
    bare = replace(warren(), members=tuple(replace(m, area_mm2=None) for m in warren().members))
    with pytest.raises(StiffnessMissing, match="Give an area"):
        square(bare)
