"""Determinate trusses against closed forms."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.trusses import AREA_MM2, MODULUS_MPA, member, pratt, triangulated, two_bar, warren
from worker.statics import solve
from worker.truss.model import Support, Truss


def without_stiffness(truss: Truss) -> Truss:
    return replace(truss, members=tuple(replace(m, area_mm2=None) for m in truss.members))


def test_two_bars_share_a_load_by_the_triangle_of_forces() -> None:
    # 3-4-5 triangle: each bar takes (load / 2) / (4 / 5)
    solution = solve(two_bar(300.0, 400.0, load=80.0))
    assert solution.forces == pytest.approx({"a-b": -50.0, "b-c": -50.0})
    assert solution.reactions == {"a": pytest.approx((30.0, 40.0)), "c": pytest.approx((-30.0, 40.0))}


def test_the_apex_of_two_bars_goes_down_by_their_shortening_over_the_sine() -> None:
    down = 50.0 * 500.0 / (AREA_MM2 * MODULUS_MPA) / 0.8
    displacements = solve(two_bar(300.0, 400.0, load=80.0)).displacements
    assert displacements is not None
    assert displacements["b"] == (0.0, pytest.approx(-down))
    assert displacements["a"] == (0.0, 0.0)


def test_a_chord_carries_the_bending_moment_over_the_depth() -> None:
    # Pratt, 6 panels of 100 mm, 120 mm deep, 5 loads of 10 N: M at the middle 4500 Nmm
    forces = solve(pratt(6, 100.0, 120.0, 10.0)).forces
    assert forces["t2-t3"] == pytest.approx(-4500.0 / 120.0)
    assert forces["b0-t1"] == pytest.approx(-25.0 / (120.0 / math.hypot(100, 120)))


def test_a_roller_at_30_degrees_reacts_square_to_its_slope() -> None:
    truss = replace(warren(), supports={"b0": Support.pin(), "b6": Support.roller(30.0)})
    rx, ry = solve(truss).reactions["b6"]
    assert ry == pytest.approx(25.0)
    assert rx == pytest.approx(-25.0 * math.tan(math.pi / 6))


def test_a_roller_on_a_wall_reacts_along_x_alone() -> None:
    # Moments about the pin: 60 N at 40 mm against the wall's push at 30 mm.
    joints = {"a": (0, 0), "b": (0, 30), "c": (40, 30)}
    members = (member("a", "b"), member("b", "c"), member("a", "c"))
    supports = {"a": Support.pin(), "b": Support.roller(90)}
    solution = solve(Truss(joints, members, supports, {"c": (0, -60)}))
    assert solution.reactions == {"a": pytest.approx((80.0, 60.0)), "b": (pytest.approx(-80.0), 0.0)}


def test_members_without_stiffness_still_give_forces_but_no_displacements() -> None:
    truss = triangulated(3, joints=9)
    known, unknown = solve(truss), solve(without_stiffness(truss))
    assert unknown.forces == pytest.approx(known.forces)
    assert unknown.reactions == known.reactions
    assert known.displacements is not None
    assert unknown.displacements is None


def test_one_unknown_stiffness_is_enough_to_hold_the_displacements_back() -> None:
    truss = warren()
    first, *rest = truss.members
    assert solve(replace(truss, members=(replace(first, modulus_MPa=None), *rest))).displacements is None


def test_a_settlement_moves_a_determinate_truss_without_a_force() -> None:
    settled = replace(warren(), loads={}, settlements={"b6": (0.0, -3.0)})
    solution = solve(settled)
    assert set(solution.forces.values()) == {0.0}
    assert solution.displacements is not None
    assert solution.displacements["b3"] == pytest.approx((0.0, -1.5))
    assert solution.displacements["t5"][1] == pytest.approx(-3.0 * 550 / 600)


def test_virtual_work_gives_the_same_deflection() -> None:
    # Sum of N n L / (E A), n from a unit load: the textbook unit-load method.
    truss = pratt()
    unit = solve(replace(truss, loads={"b2": (0.0, -1.0)}))
    solution = solve(truss)
    work = sum(
        solution.forces[m.name] * unit.forces[m.name] * truss.length_mm(m) / (AREA_MM2 * MODULUS_MPA)
        for m in truss.members
    )
    assert solution.displacements is not None
    assert -solution.displacements["b2"][1] == pytest.approx(work)
