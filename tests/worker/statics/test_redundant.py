"""Redundant trusses against closed forms."""

from __future__ import annotations

import math
import pickle
from dataclasses import replace

import pytest

from tests.trusses import AREA_MM2, MODULUS_MPA, made_redundant, member, warren
from worker.statics import StiffnessMissing, solve
from worker.truss.model import Support, Truss


def hangers(angle_deg: float = 30.0, load: float = 100.0) -> Truss:
    """Three members from pins above to one loaded joint: one upright, two at an angle to it."""
    reach = 400.0 * math.tan(math.radians(angle_deg))
    joints = {"l": (-reach, 400.0), "m": (0.0, 400.0), "r": (reach, 400.0), "p": (0.0, 0.0)}
    members = tuple(member(top, "p") for top in "lmr")
    return Truss(joints, members, dict.fromkeys("lmr", Support.pin()), {"p": (0.0, -load)})


@pytest.mark.parametrize("angle", [15.0, 30.0, 60.0])
def test_three_hangers_share_the_load_by_stiffness(angle: float) -> None:
    # S. Timoshenko, Strength of Materials, part I (from memory): upright P / (1 + 2 cos^3),
    # the others cos^2 times that.
    cosine = math.cos(math.radians(angle))
    upright = 100.0 / (1 + 2 * cosine**3)
    forces = solve(hangers(angle)).forces
    assert forces == pytest.approx({"m-p": upright, "l-p": upright * cosine**2, "r-p": upright * cosine**2})


def test_a_support_that_settles_unloads_its_member_by_the_closed_form() -> None:
    # No load; the upright's pin goes down by s: force S in it with S (1 + 1 / (2 cos^3)) = -EA s / L
    truss = replace(hangers(), loads={}, settlements={"m": (0.0, -1.0)})
    cosine = math.cos(math.radians(30))
    force = -AREA_MM2 * MODULUS_MPA * 1.0 / 400.0 / (1 + 1 / (2 * cosine**3))
    solution = solve(truss)
    assert solution.forces["m-p"] == pytest.approx(force)
    assert solution.displacements is not None
    assert solution.displacements["m"] == pytest.approx((0.0, -1.0))


def test_a_bar_between_two_walls_splits_its_load_by_the_lengths() -> None:
    # Bar of 1000 mm between pins at its ends, loaded along itself at 300 mm; a strut holds it across.
    joints = {"a": (0, 0), "b": (300, 0), "c": (1000, 0), "d": (300, 100)}
    members = (member("a", "b"), member("b", "c"), member("b", "d"))
    supports = dict.fromkeys("acd", Support.pin())
    forces = solve(Truss(joints, members, supports, {"b": (10.0, 0.0)})).forces
    assert forces == {"a-b": pytest.approx(7.0), "b-c": pytest.approx(-3.0), "b-d": 0.0}


def test_only_the_ratio_of_stiffnesses_changes_forces() -> None:
    truss = made_redundant(warren(), seed=2)
    stiffer = tuple(replace(m, modulus_MPa=50 * (m.modulus_MPa or 0)) for m in truss.members)
    assert solve(replace(truss, members=stiffer)).forces == pytest.approx(solve(truss).forces)


def test_a_redundant_truss_without_a_stiffness_names_the_member() -> None:
    truss = made_redundant(warren(), seed=2)
    first, second, *rest = truss.members
    unknown = (replace(first, area_mm2=None), replace(second, modulus_MPa=None), *rest)
    with pytest.raises(StiffnessMissing, match=f"for {first.name}, {second.name}$"):
        solve(replace(truss, members=unknown))


def test_the_error_survives_the_way_between_processes() -> None:
    error = pickle.loads(pickle.dumps(StiffnessMissing("says why")))
    assert isinstance(error, ValueError)
    assert str(error) == "says why"


@pytest.mark.parametrize("areas", [(1e12, 1.0, 1.0), (1.0, 1e12, 1e12), (1.0, 1e24, 1e24)])
def test_stiffnesses_far_apart_do_not_spoil_equilibrium(areas: tuple[float, ...]) -> None:
    truss = made_redundant(warren(4), seed=3, extra=3)
    members = tuple(replace(m, area_mm2=areas[i % 3]) for i, m in enumerate(truss.members))
    solution = solve(replace(truss, members=members))
    assert solution.residual < 1e-12
    assert any("Check the units" in warning for warning in solution.warnings)


def test_a_roller_on_a_slope_moves_along_it_exactly() -> None:
    supports = {"b0": Support.pin(), "b3": Support.roller(), "b6": Support.roller(20.0)}
    displacements = solve(replace(warren(), supports=supports)).displacements
    assert displacements is not None
    x, y = displacements["b6"]
    assert abs(x) > 1e-3
    assert y / x == pytest.approx(math.tan(math.radians(20)), rel=1e-12)
    assert displacements["b3"][1] == 0.0
