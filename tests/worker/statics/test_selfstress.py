"""States of self-stress and the members that carry them."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trusses import made_redundant, member, pratt, shuffled, triangulated, warren
from worker.statics import mechanisms_of
from worker.statics.equilibrium import equilibrium_matrix, rigidity
from worker.statics.selfstress import SelfStress, redundant_members, self_stresses
from worker.statics.structure import Structure
from worker.truss.model import Support, Truss


def braced(*extra: str) -> Truss:
    """The Pratt girder with more diagonals."""
    truss = pratt()
    return replace(truss, members=truss.members + tuple(member(*pair.split("-")) for pair in extra))


def out_of_balance(truss: Truss, state: SelfStress) -> float:
    worst = 0.0
    for joint, here in truss.joints.items():
        total = np.array(state.reactions.get(joint, (0.0,) * len(here)))
        for m in truss.members:
            if joint in (m.start, m.end):
                there = truss.joints[m.end if joint == m.start else m.start]
                total = total + state.forces.get(m.name, 0.0) * np.subtract(there, here) / truss.length_mm(m)
        worst = max(worst, float(np.abs(total).max()))
    return worst


def test_a_determinate_truss_has_no_self_stress_and_no_member_to_spare() -> None:
    assert self_stresses(warren()) == ()
    assert redundant_members(warren()) == ()


def test_a_square_with_both_diagonals_stresses_all_six_by_the_closed_form() -> None:
    # Equilibrium of a corner: sides -1 / sqrt(2) of the diagonals.
    joints = {"a": (0, 0), "b": (1, 0), "c": (1, 1), "d": (0, 1)}
    pairs = ("ab", "bc", "cd", "da", "ac", "bd")
    truss = Truss(joints, tuple(member(*p) for p in pairs), {"a": Support.pin(), "b": Support.roller()})
    (state,) = self_stresses(truss)
    side = -1 / math.sqrt(2)
    wanted = {"a-b": side, "b-c": side, "c-d": side, "d-a": side, "a-c": 1.0, "b-d": 1.0}
    assert state.forces == pytest.approx(wanted)
    assert state.reactions == {}


def test_crossed_panels_that_share_posts_are_stressed_one_by_one() -> None:
    truss = braced("b2-t3", "b4-t3", "b1-t2")
    states = self_stresses(truss)
    assert [len(state.forces) for state in states] == [6, 6, 6]
    assert ["b1-t2" in state.forces for state in states] == [True, False, False]
    assert "b0-b1" not in redundant_members(truss)
    assert "b3-t3" in redundant_members(truss)


def test_a_third_support_presses_the_truss_through_its_reactions() -> None:
    truss = replace(pratt(), supports=pratt().supports | {"b3": Support.roller()})
    (state,) = self_stresses(truss)
    assert set(state.reactions) == {"b0", "b3", "b6"}
    assert state.reactions["b3"][1] == pytest.approx(-2 * state.reactions["b0"][1])


def test_a_critical_form_stresses_itself_though_it_is_not_redundant_by_count() -> None:
    joints = {"a": (0, 0), "b": (50, 0), "c": (100, 0)}
    supports = {"a": Support.pin(), "c": Support.pin()}
    truss = Truss(joints, (member("a", "b"), member("b", "c")), supports)
    (state,) = self_stresses(truss)
    assert state.forces == pytest.approx({"a-b": 1.0, "b-c": 1.0})


def test_a_twin_member_is_to_spare_and_so_is_its_other() -> None:
    truss = warren()
    twin = replace(truss.members[0], name="again")
    doubled = replace(truss, members=(*truss.members, twin))
    assert redundant_members(doubled) == (truss.members[0].name, "again")


@st.composite
def redundant(draw: st.DrawFn) -> Truss:
    seed = draw(st.integers(0, 5000))
    truss = triangulated(seed, joints=draw(st.integers(4, 9)), slope_deg=draw(st.sampled_from([0.0, 25.0])))
    return made_redundant(truss, seed, draw(st.integers(1, 4)), draw(st.integers(0, 1)))


quick = settings(max_examples=40, deadline=None)


@quick
@given(redundant())
def test_each_state_is_in_balance_and_together_they_are_as_many_as_the_degree(truss: Truss) -> None:
    states = self_stresses(truss)
    E = equilibrium_matrix(Structure.of(truss))
    assert len(states) == rigidity(E).self_stress
    assert all(out_of_balance(truss, state) < 1e-7 for state in states)
    rows = [[state.forces.get(m.name, 0.0) for m in truss.members] for state in states]
    assert np.linalg.matrix_rank(np.array(rows), tol=1e-6) == len(states)


@quick
@given(redundant())
def test_a_member_is_to_spare_exactly_where_the_truss_stands_without_it(truss: Truss) -> None:
    stands = [
        m.name
        for m in truss.members
        if not mechanisms_of(replace(truss, members=tuple(o for o in truss.members if o is not m)))
    ]
    assert list(redundant_members(truss)) == stands


@quick
@given(redundant(), st.integers(0, 1000))
def test_order_and_names_change_neither_the_states_nor_the_members_to_spare(truss: Truss, seed: int) -> None:
    changed, _ = shuffled(truss, seed)
    assert [dict(state.forces) for state in self_stresses(changed)] == [
        dict(state.forces) for state in self_stresses(truss)
    ]
    assert set(redundant_members(changed)) == set(redundant_members(truss))


def test_a_lone_joint_that_nothing_holds_has_no_self_stress() -> None:
    lone = Truss({"a": (0.0, 0.0)}, ())
    assert (self_stresses(lone), redundant_members(lone)) == ((), ())
