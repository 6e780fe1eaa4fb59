"""The solution as a whole: checks, cautions, noise, odd input, speed of import."""

from __future__ import annotations

import math
import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest

from tests.trusses import made_redundant, member, pratt, triangulated, two_bar, warren
from worker.statics import cautions, solve
from worker.statics.equilibrium import equilibrium_matrix, rigidity
from worker.statics.solver import residual
from worker.statics.structure import Structure
from worker.truss.model import Support, Truss


def test_answers_come_in_the_order_and_spelling_of_the_file() -> None:
    truss = warren()
    solution = solve(truss)
    assert solution.displacements is not None
    assert list(solution.forces) == [m.name for m in truss.members]
    assert list(solution.reactions) == list(truss.supports)
    assert list(solution.displacements) == list(truss.joints)


def test_a_member_without_force_carries_exactly_zero_and_never_minus_zero() -> None:
    solution = solve(pratt())
    assert solution.forces["b3-t3"] == 0.0
    numbers = [*solution.forces.values(), *(x for v in solution.reactions.values() for x in v)]
    assert all(math.copysign(1.0, x) == 1.0 for x in numbers if x == 0.0)


def test_a_truss_without_loads_has_no_forces() -> None:
    solution = solve(replace(warren(), loads={}))
    assert set(solution.forces.values()) == {0.0}
    assert (solution.residual, solution.warnings) == (0.0, ())


@pytest.mark.parametrize(
    ("truss", "state", "mechanisms"),
    [
        (Truss({}, ()), "stable", 0),
        (Truss({"a": (0, 0)}, ()), "mechanism", 2),
        (Truss({"a": (0, 0)}, (), {"a": Support.pin()}), "stable", 0),
        (Truss({"a": (0, 0), "b": (1, 0)}, ()), "mechanism", 4),
        (Truss({"a": (0, 0), "b": (1, 0)}, (member("a", "b"),)), "mechanism", 3),
    ],
)
def test_a_truss_of_almost_nothing_has_an_answer(truss: Truss, state: str, mechanisms: int) -> None:
    solution = solve(truss)
    assert (solution.state, solution.mechanisms) == (state, mechanisms)


def test_a_load_straight_onto_a_pinned_joint_goes_into_the_pin() -> None:
    truss = Truss({"a": (0, 0)}, (), {"a": Support.pin()}, {"a": (3.0, -4.0)})
    assert solve(truss).reactions == {"a": (-3.0, 4.0)}


def test_the_residual_sees_a_wrong_force() -> None:
    structure = Structure.of(two_bar(300.0, 400.0, load=80.0))
    E = equilibrium_matrix(structure)
    q = np.linalg.solve(E, -structure.loads.ravel())
    assert residual(structure, E, q) < 1e-15
    q[0] += 1.0
    assert residual(structure, E, q) == pytest.approx(0.8 / 80.0)


def test_forces_out_of_balance_are_called_so() -> None:
    structure = Structure.of(two_bar())
    E = equilibrium_matrix(structure)
    assert cautions.stable(structure, E, rigidity(E), 1e-12) == ()
    for bad in (0.02, math.nan):
        assert "out of balance at a joint" in cautions.stable(structure, E, rigidity(E), bad)[-1]


def test_a_truss_close_to_a_mechanism_names_the_joint_that_moves() -> None:
    solution = solve(two_bar(half_span=300.0, rise=0.3))
    assert solution.state == "stable"
    assert "nearly a mechanism: joint b can move" in solution.warnings[0]
    assert f"{solution.condition:.1e}" in solution.warnings[0]


def test_the_joint_named_is_the_one_in_the_weak_place() -> None:
    truss = warren()
    props = (member("b0", "x"), member("x", "b1"))
    weak = replace(truss, joints=truss.joints | {"x": (50.0, -0.002)}, members=truss.members + props)
    assert "nearly a mechanism: joint x can move" in solve(weak).warnings[0]


def test_a_condition_that_costs_digits_says_how_many_are_left() -> None:
    solution = solve(two_bar(half_span=300.0, rise=3e-6))
    assert "only about 8 digits" in solution.warnings[1]


@pytest.mark.parametrize("truss", [two_bar(), warren(4), warren(20), pratt(20), warren(200), pratt(200)])
def test_sound_trusses_are_not_called_nearly_a_mechanism(truss: Truss) -> None:
    assert solve(truss).warnings == ()


def test_close_to_a_mechanism_a_redundant_truss_still_balances() -> None:
    truss = two_bar(half_span=300.0, rise=0.003)
    joints = truss.joints | {"d": (300.0, -400.0)}
    extra = (member("a", "d"), member("d", "c"), member("a", "c"))
    solution = solve(replace(truss, joints=joints, members=truss.members + extra))
    assert solution.degree == 1
    assert solution.forces["a-b"] == pytest.approx(-50.0 / 1e-5, rel=1e-9)
    assert solution.residual < 1e-12


def test_a_settlement_where_nothing_holds_the_joint_is_left_out_and_said() -> None:
    solution = solve(replace(warren(), settlements={"b6": (1.0, 0.0), "t2": (0.0, 1.0)}))
    assert len(solution.warnings) == 2
    assert any("The settlement of joint b6 is partly in a direction" in said for said in solution.warnings)
    assert solution.displacements == solve(warren()).displacements


def test_huge_and_tiny_numbers_pass_without_a_numeric_warning() -> None:
    for size in (1e-9, 1e12):
        truss = made_redundant(triangulated(1), seed=1)
        solution = solve(replace(truss, loads=dict.fromkeys(truss.joints, (size, -size))))
        assert solution.state == "stable"
        assert solution.residual < 1e-12


def test_a_space_truss_is_solved_by_the_same_code() -> None:
    # A tripod with its feet on a circle: each leg takes a third of the load over its slope.
    feet = {name: (math.cos(k * 2 * math.pi / 3), math.sin(k * 2 * math.pi / 3), 0.0) for k, name in enumerate("abc")}
    pin = Support("pin", ((1, 0, 0), (0, 1, 0), (0, 0, 1)))
    truss = Truss(
        feet | {"d": (0.0, 0.0, 2.0)},
        tuple(member(foot, "d") for foot in "abc"),
        dict.fromkeys("abc", pin),
        {"d": (0.0, 0.0, -30.0)},
    )
    assert list(solve(truss).forces.values()) == pytest.approx([-10.0 / (2 / math.sqrt(5))] * 3)


def test_statics_needs_numpy_and_nothing_heavier() -> None:
    code = "import sys, worker.statics; print('numpy' in sys.modules, 'scipy' in sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.split() == ["True", "False"]


def test_a_truss_without_loads_has_zeros_and_no_minus_zeros() -> None:
    solution = solve(replace(warren(), loads={}))
    numbers = [*solution.forces.values(), *(x for v in solution.reactions.values() for x in v)]
    assert {math.copysign(1.0, x) for x in numbers} == {1.0}


def test_a_mechanism_has_no_residual_and_the_condition_of_its_matrix() -> None:
    truss = replace(warren(), supports={})
    solution = solve(truss)
    assert solution.residual == 0.0
    assert solution.condition == rigidity(equilibrium_matrix(Structure.of(truss))).condition
