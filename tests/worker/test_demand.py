"""Loads that move, self-weight and rigid joints: what they ask of the members, and that all answers agree on it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric import library
from rubric.brief import TRAVELLING, Brief
from rubric.quantities import STANDARD_GRAVITY
from tests.trusses import made_redundant, pratt
from worker import statics
from worker.analysis import Solved, analysis, midspan_deflection_mm, solve
from worker.chance import failure_loads
from worker.collapse import collapse
from worker.demand import framed, loaded_at
from worker.outlook import whole_load_N
from worker.strength.bridge import strength
from worker.strength.scatter import Scatter
from worker.strength.sections import section_of
from worker.strength.wood import wood
from worker.truss.model import Truss

FOOTBRIDGE = library.brief("footbridge")
NONE = Scatter(0, 0, 0, 0, 0, 0)


def asked(places: object = "midspan", **more: object) -> Brief:
    load = FOOTBRIDGE.load.model_copy(update={"places": places})
    return FOOTBRIDGE.model_copy(update={"load": load, **more})


def girder(brief: Brief, extra: int = 0) -> Solved:
    """Six panels of 100 mm, loaded at the middle joint of the deck."""
    truss = pratt(6)
    truss = made_redundant(truss, 3, extra) if extra else truss
    sticks = tuple(replace(m, stick="square5" if m.start[0] == m.end[0] else "square3") for m in truss.members)
    return solve(loaded_at(replace(truss, members=sticks), "b3", brief), brief)


EVERY = [
    asked(self_weight="counted"),
    asked(TRAVELLING),
    asked(TRAVELLING, self_weight="counted"),
    asked(joints="rigid"),
    asked(TRAVELLING, self_weight="counted", joints="rigid"),
    asked(self_weight="counted", share=0.7),
]


def with_target(brief: Brief, times: float) -> Brief:
    return brief.model_copy(update={"load": brief.load.model_copy(update={"target_N": times * brief.load.target_N})})


def test_self_weight_is_that_of_one_side_and_its_part_of_the_cross_members() -> None:
    solved = girder(asked(self_weight="counted"))
    own_N = -sum(load[1] for load in solved.truss.permanent.values())
    assert own_N == pytest.approx(solved.strength.mass_g / 2 * 1e-3 * STANDARD_GRAVITY)
    rows = analysis(solved).joints
    assert sum(row.own_weight_N for row in rows) == pytest.approx(own_N)
    up_N = sum(row.reaction_N[1] for row in rows if row.reaction_N)
    assert up_N == pytest.approx(own_N + 100)


def test_self_weight_is_left_out_unless_the_brief_counts_it() -> None:
    solved = girder(asked())
    assert solved.truss.permanent == {}
    assert solved.demand is not None
    assert solved.demand.permanent is None


@pytest.mark.parametrize("brief", EVERY[:3])
@pytest.mark.parametrize("extra", [0, 2])
def test_at_the_failure_load_the_first_member_is_just_full(brief: Brief, extra: int) -> None:
    """Solved afresh with the target set to the failure load: no other formula, the same member at 100 %."""
    before = girder(brief, extra)
    assert before.strength.failure_load_N is not None
    after = girder(with_target(brief, before.strength.failure_load_N / brief.load.target_N), extra)
    assert max(check.utilisation for check in after.strength.checks) == pytest.approx(1, rel=1e-9)
    assert after.strength.first is not None
    assert before.strength.first is not None
    assert after.strength.first.member == before.strength.first.member
    assert after.strength.first.utilisation == pytest.approx(1, rel=1e-9)


@pytest.mark.parametrize("extra", [0, 2])
@pytest.mark.parametrize("joints", ["hinged", "rigid"])
def test_a_load_that_moves_is_as_bad_as_the_worst_of_its_places(joints: str, extra: int) -> None:
    moving = girder(asked(TRAVELLING, joints=joints), extra)
    each = {
        name: solve(loaded_at(moving.truss, name, asked()), asked(joints=joints)).strength.failure_load_N or 0.0
        for name in ("b1", "b2", "b3", "b4", "b5")
    }
    assert moving.strength.failure_load_N == pytest.approx(min(each.values()), rel=1e-12)
    assert moving.strength.first is not None
    assert each[moving.strength.first.place] == pytest.approx(min(each.values()), rel=1e-12)


def test_the_truss_is_drawn_with_the_load_where_it_breaks_the_bridge_first() -> None:
    solved = girder(asked(TRAVELLING))
    found = analysis(solved)
    assert found.travel is not None
    assert found.first_failure is not None
    assert list(solved.truss.loads) == [found.travel.worst]
    row = next(row for row in found.members if row.name == found.first_failure.member)
    assert row.force_N == pytest.approx(row.worst_N)
    assert row.worst_N == pytest.approx(found.travel.forces_N[found.travel.joints.index(row.worst_at)])
    assert found.travel.joints == ("b1", "b2", "b3", "b4", "b5")
    for row in found.members:
        assert row.range_N is not None
        assert row.range_N[0] <= row.hardest_N <= row.range_N[1]


def test_the_chord_forces_of_a_moving_load_follow_the_beam_moment() -> None:
    """Bottom chord of a parallel-chord truss: M / h of the beam, whose moment at a under P at x is P x (L - a) / L.

    Influence lines by moments about the joint opposite the chord member (any text on statics of trusses).
    """
    found = analysis(girder(asked(TRAVELLING)))
    row = next(row for row in found.members if {row.start, row.end} == {"b2", "b3"})
    h = max(joint.y_mm for joint in found.joints)
    worst_N = 100 * 200 * (600 - 200) / 600 / h  # about t2, above b2
    assert row.range_N is not None
    assert row.range_N[1] == pytest.approx(worst_N)


@pytest.mark.parametrize("brief", EVERY)
@pytest.mark.parametrize("extra", [0, 2])
def test_without_scatter_chance_and_collapse_agree_with_the_first_failure(brief: Brief, extra: int) -> None:
    solved = girder(brief, extra)
    load_N = solved.strength.failure_load_N
    assert load_N is not None
    found = failure_loads(solved.truss, solved.solution, brief, NONE, 1, asked=solved.demand)
    assert found is not None
    assert found.low_N == found.high_N == pytest.approx(load_N, rel=5e-4)
    after = collapse(solved.truss, brief, wood(brief.wood))
    assert after.steps[0].load_N == pytest.approx(load_N, rel=1e-9)


@given(density=st.floats(50, 5000))
@settings(max_examples=20, deadline=None)
def test_heavier_wood_of_the_same_strength_never_carries_more(density: float) -> None:
    light, heavy = (
        girder(
            asked(self_weight="counted", wood=FOOTBRIDGE.wood.model_copy(update={"density_kg_m3": each}))
        ).strength.failure_load_N
        for each in (50.0, density)
    )
    assert light is not None
    assert heavy is not None
    assert heavy <= light * (1 + 1e-12)


def test_a_bridge_that_cannot_carry_itself_has_a_failure_load_of_nothing() -> None:
    lead = FOOTBRIDGE.wood.model_copy(update={"density_kg_m3": 1e7})
    solved = girder(asked(self_weight="counted", wood=lead))
    assert solved.strength.failure_load_N == 0
    assert solved.strength.efficiency == 0
    assert solved.strength.first is not None
    assert solved.strength.first.utilisation > 1
    assert collapse(solved.truss, solved.brief, wood(lead)).kept_after_first == 0


def test_rigid_joints_bend_and_pull_as_the_frame_says() -> None:
    brief = asked(joints="rigid")
    solved, material = girder(brief), wood(FOOTBRIDGE.wood)
    found = framed(solved.truss, brief)
    for check in solved.strength.checks:
        bent = found.bending_MPa[check.member.name] / material.bending_MPa
        assert check.force_N == found.forces[check.member.name]
        assert check.capacity_N is not None
        ends = abs(check.force_N) / check.capacity_N
        assert check.utilisation == pytest.approx(ends if check.mode == "joint" else ends + bent)
    assert section_of(solved.truss.members[0], brief).area_mm2 > 0


def test_rigid_joints_do_not_make_a_mechanism_stand() -> None:
    """A frame of four sides would stand; a truss must not rely on the stiffness of glue."""
    brief = asked(joints="rigid")
    truss = girder(brief).truss
    loose = replace(truss, members=truss.members[:-1])
    assert solve(loose, brief).solution.mechanisms == 1


def test_a_members_bending_strength_is_the_briefs_own_where_it_gives_one() -> None:
    weak = FOOTBRIDGE.wood.model_copy(update={"bending_MPa": 0.1})
    found = girder(asked(joints="rigid", wood=weak))
    assert found.strength.first is not None
    assert found.strength.first.mode == "bending"
    assert (found.strength.failure_load_N or 0) < (girder(asked(joints="rigid")).strength.failure_load_N or 0)


def test_reactions_of_the_frame_hold_the_loads() -> None:
    solved = girder(asked(joints="rigid", self_weight="counted"))
    down_N = sum(load[1] for loads in (solved.truss.loads, solved.truss.permanent) for load in loads.values())
    up_N = sum(reaction[1] for reaction in solved.solution.reactions.values())
    assert up_N == pytest.approx(-down_N)
    hinged = statics.solve(solved.truss).reactions
    for joint, reaction in solved.solution.reactions.items():
        assert reaction == pytest.approx(hinged[joint], abs=1e-9)


def test_the_deflection_of_a_moving_load_is_the_largest_at_midspan() -> None:
    moving, still = girder(asked(TRAVELLING)), girder(asked())
    assert midspan_deflection_mm(moving) == pytest.approx(midspan_deflection_mm(still))


def test_own_weight_sags_the_bridge_too() -> None:
    bare, own = (midspan_deflection_mm(girder(brief)) for brief in (asked(), asked(self_weight="counted")))
    assert bare is not None
    assert own is not None
    assert bare < own < 1.01 * bare


def test_the_whole_truss_under_a_moving_load_gives_way_at_its_worst_place() -> None:
    soft = FOOTBRIDGE.wood.model_copy(update={"modulus_MPa": 1.0})
    moving = whole_load_N(girder(asked(TRAVELLING, wood=soft)))
    still = whole_load_N(girder(asked(wood=soft)))
    assert moving is not None
    assert still is not None
    assert moving <= still


def test_strength_of_a_truss_without_a_load_on_it_says_nothing() -> None:
    solved = girder(asked())
    idle: Truss = replace(solved.truss, loads={})
    found = strength(idle, solve(idle, asked()).demand, asked(), wood(FOOTBRIDGE.wood))
    assert (found.first, found.failure_load_N) == (None, None)
