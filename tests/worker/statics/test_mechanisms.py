"""How mechanisms move."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.trusses import member, triangulated, warren
from worker.statics import solve
from worker.statics.equilibrium import equilibrium_matrix
from worker.statics.structure import Structure
from worker.truss.model import Support, Truss


def square(x: float = 0.0, names: str = "abcd") -> Truss:
    """A square without a diagonal on a pin and a roller."""
    a, b, c, d = names
    joints = {a: (x, 0.0), b: (x + 100, 0.0), c: (x + 100, 100.0), d: (x, 100.0)}
    members = (member(a, b), member(b, c), member(c, d), member(d, a))
    return Truss(joints, members, {a: Support.pin(), b: Support.roller()}, {d: (1.0, 0.0)})


def test_a_square_without_a_diagonal_sways_at_its_upper_joints() -> None:
    solution = solve(square())
    assert (solution.state, solution.mechanisms, solution.degree) == ("mechanism", 1, 0)
    assert solution.moving == ("c", "d")
    assert solution.motions[0]["c"] == pytest.approx((1.0, 0.0))
    assert solution.motions[0]["d"] == pytest.approx((1.0, 0.0))
    assert solution.motions[0]["a"] == (0.0, 0.0)


def test_two_separate_mechanisms_come_out_one_by_one() -> None:
    left, right = square(), square(500.0, "efgh")
    both = Truss(left.joints | right.joints, left.members + right.members, {**left.supports, **right.supports})
    solution = solve(both)
    moves = [{name for name, v in motion.items() if v != (0.0, 0.0)} for motion in solution.motions]
    assert sorted(map(sorted, moves)) == [["c", "d"], ["g", "h"]]


def test_a_joint_that_no_member_touches_moves_both_ways() -> None:
    truss = warren()
    solution = solve(replace(truss, joints=truss.joints | {"lost": (7.0, 7.0)}))
    assert (solution.mechanisms, solution.moving) == (2, ("lost",))


def test_a_truss_without_supports_has_the_three_movements_of_a_plane_body() -> None:
    solution = solve(replace(warren(), supports={}))
    assert (solution.state, solution.mechanisms) == ("mechanism", 3)
    assert set(solution.moving) == set(warren().joints)


@pytest.mark.parametrize("seed", range(20))
def test_no_member_stretches_and_no_support_yields_in_any_motion(seed: int) -> None:
    truss = triangulated(seed, joints=8, slope_deg=25.0)
    weak = replace(truss, members=truss.members[: -1 - seed % 4])
    solution = solve(weak)
    E = equilibrium_matrix(Structure.of(weak))
    names = Structure.of(weak).joint_names
    assert solution.mechanisms == len(solution.motions) == 1 + seed % 4
    for motion in solution.motions:
        u = np.array([motion[name] for name in names])
        assert np.abs(E.T @ u.ravel()).max() < 1e-9
        assert np.sqrt((u**2).sum(axis=1)).max() == pytest.approx(1.0)


def test_motions_are_independent_of_one_another() -> None:
    solution = solve(Truss({"a": (0, 0), "b": (1, 0), "c": (5, 5)}, (member("a", "b"),)))
    rows = np.array([[x for v in motion.values() for x in v] for motion in solution.motions])
    assert np.linalg.matrix_rank(rows) == solution.mechanisms == 5


def test_a_member_too_many_here_does_not_make_up_for_one_too_few_there() -> None:
    truss = square()
    joints = truss.joints | {"e": (200.0, 0.0), "f": (200.0, 100.0)}
    braced = [("b", "e"), ("e", "f"), ("f", "c"), ("b", "f"), ("c", "e")]
    solution = solve(replace(truss, joints=joints, members=truss.members + tuple(member(*p) for p in braced)))
    assert (solution.mechanisms, solution.degree) == (1, 1)
    assert (
        "Counting does not show this: 9 members and 3 held directions are enough for 6 joints."
        in (solution.warnings[0])
    )


def test_a_motion_of_an_inclined_roller_follows_its_slope() -> None:
    truss = Truss({"a": (0, 0), "b": (100, 0)}, (member("a", "b"),), {"a": Support.pin(), "b": Support.roller(90)})
    assert solve(truss).motions[0]["b"] == pytest.approx((0.0, 1.0))
    sloped = Truss({"a": (0.0, 0.0)}, (), {"a": Support.roller(30)})
    assert solve(sloped).motions[0]["a"] == pytest.approx((math.cos(math.pi / 6), 0.5))


def test_a_joint_that_moves_a_millionth_as_far_as_another_is_said_to_move() -> None:
    lever = Truss(
        {"a": (0.0, 0.0), "c": (0.0, 1e-3), "e": (1000.0, 0.0)},
        (member("a", "c"), member("c", "e"), member("a", "e")),
        {"a": Support.pin()},
    )
    assert solve(lever).moving == ("c", "e")


@pytest.mark.parametrize("rise_mm", [1e-3, 1e-4, 1e-5])
def test_a_soft_joint_elsewhere_is_not_said_to_move_for_rounding_alone(rise_mm: float) -> None:
    """Two bars between pins that rise next to nothing: stable, but rounding there is 1e-11 to 1e-9 of a movement."""
    loose = square()
    joints = loose.joints | {"p": (500.0, 0.0), "q": (550.0, rise_mm), "r": (600.0, 0.0)}
    supports = loose.supports | {"p": Support.pin(), "r": Support.pin()}
    soft = replace(
        loose, joints=joints, supports=supports, members=(*loose.members, member("p", "q"), member("q", "r"))
    )
    assert (solve(soft).mechanisms, solve(soft).moving) == (1, ("c", "d"))
