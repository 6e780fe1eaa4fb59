"""The equilibrium matrix and its rank."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.trusses import made_redundant, mapped, member, pratt, turned, two_bar, warren
from worker.statics.equilibrium import Rigidity, equilibrium_matrix, rigidity
from worker.statics.structure import Structure
from worker.truss.model import Support, Truss


def rigidity_of(truss: Truss) -> Rigidity:
    return rigidity(equilibrium_matrix(Structure.of(truss)))


def counts_of(truss: Truss) -> tuple[int, int]:
    """(mechanisms, states of self-stress)."""
    found = rigidity_of(truss)
    return found.mechanisms, found.self_stress


def hexagon() -> Truss:
    """A regular hexagon with its three long diagonals: 9 members, 6 joints, 3 held directions."""
    joints = {str(k): (math.cos(k * math.pi / 3), math.sin(k * math.pi / 3)) for k in range(6)}
    sides = [(str(k), str((k + 1) % 6)) for k in range(6)]
    diagonals = [("0", "3"), ("1", "4"), ("2", "5")]
    supports = {"3": Support.pin(), "0": Support.roller()}
    return Truss(joints, tuple(member(a, b) for a, b in sides + diagonals), supports)


def test_a_column_holds_the_pulls_of_a_member_on_its_two_joints() -> None:
    truss = Truss({"a": (0, 0), "b": (3, 4)}, (member("a", "b"),), {"b": Support.roller(90)})
    E = equilibrium_matrix(Structure.of(truss))
    assert np.abs(E - [[0.6, 0], [0.8, 0], [-0.6, -1], [-0.8, 0]]).max() < 1e-15


@pytest.mark.parametrize("truss", [two_bar(), warren(), pratt()])
def test_a_determinate_truss_has_no_mechanism_and_no_self_stress(truss: Truss) -> None:
    assert counts_of(truss) == (0, 0)


def test_each_member_too_many_adds_a_state_of_self_stress() -> None:
    assert counts_of(made_redundant(warren(), seed=1, extra=3)) == (0, 3)


def test_a_regular_hexagon_with_long_diagonals_moves_although_its_count_is_right() -> None:
    assert counts_of(hexagon()) == (1, 1)


def test_a_hexagon_stops_moving_when_one_corner_leaves_the_circle() -> None:
    truss = hexagon()
    assert counts_of(replace(truss, joints=truss.joints | {"1": (0.6, 0.8660254)})) == (0, 0)


def test_a_joint_on_the_straight_line_between_two_pins_can_move_across_it() -> None:
    joints = {"a": (0, 0), "b": (50, 0), "c": (100, 0)}
    truss = Truss(joints, (member("a", "b"), member("b", "c")), {"a": Support.pin(), "c": Support.pin()})
    assert counts_of(truss) == (1, 1)


def test_three_reactions_through_one_point_cannot_stop_a_rotation() -> None:
    joints = {"a": (0, 0), "b": (100, 0), "c": (50, 80)}
    members = (member("a", "b"), member("b", "c"), member("a", "c"))
    aim = math.degrees(math.atan2(40, 50))  # the reactions at a, b and c all pass through (50, 40)
    supports = {"a": Support.roller(aim - 90), "b": Support.roller(90 - aim), "c": Support.roller()}
    assert counts_of(Truss(joints, members, supports)) == (1, 1)


@pytest.mark.parametrize("factor", [1e-6, 1.0, 1e9])
@pytest.mark.parametrize("offset", [0.0, 1e3])
def test_neither_size_nor_place_changes_the_rank(factor: float, offset: float) -> None:
    def place(v: tuple[float, ...]) -> tuple[float, ...]:
        return ((v[0] + offset) * factor, (v[1] - offset) * factor)

    for truss in (hexagon(), warren()):
        moved = replace(truss, joints={name: place(v) for name, v in truss.joints.items()})
        assert counts_of(moved) == counts_of(truss)


@pytest.mark.parametrize("degrees", [1.0, 30.0, 77.7])
def test_turning_a_critical_form_does_not_hide_its_mechanism(degrees: float) -> None:
    assert counts_of(mapped(hexagon(), turned(degrees))) == (1, 1)


def test_a_girder_of_two_hundred_panels_is_not_taken_for_a_mechanism() -> None:
    assert counts_of(warren(200)) == (0, 0)


def test_an_empty_truss_and_a_free_joint_have_a_rank() -> None:
    assert rigidity_of(Truss({}, ())) == Rigidity(0, 0, 0, 1.0)
    assert rigidity_of(Truss({"a": (0, 0)}, ())) == Rigidity(0, 2, 0, 1.0)


def test_a_tripod_is_a_determinate_space_truss() -> None:
    pin = Support("pin", ((1, 0, 0), (0, 1, 0), (0, 0, 1)))
    joints = {"a": (1, 0, 0), "b": (-1, 1, 0), "c": (-1, -1, 0), "d": (0, 0, 2)}
    members = tuple(member(foot, "d") for foot in "abc")
    assert counts_of(Truss(joints, members, dict.fromkeys("abc", pin))) == (0, 0)
