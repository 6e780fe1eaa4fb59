"""Par: the answer is a truss in equilibrium, no heavier than any other, and grows as it should."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric import library
from rubric.brief import Brief
from tests.trusses import warren
from worker.advice.par import BridgePar, Par, par, par_of
from worker.analysis import solve
from worker.statics import solve as statics
from worker.truss.model import Support
from worker.truss.reader import read_truss

PIN, ROLLER = Support.pin(), Support.roller()
FOOTBRIDGE = library.brief("footbridge")


def beam(
    place: float = 300.0, load: float = 100.0, above: float = 200.0, columns: int = 12, span: float = 600.0
) -> Par:
    """Par of a load on the deck between a pin and a roller."""
    supports = {(0.0, 0.0): PIN, (span, 0.0): ROLLER}
    found = par(span, above, 0.0, supports, {(place, 0.0): (0.0, -load)}, 20.0, 10.0, columns)
    assert found is not None
    return found


def bridge(brief: Brief = FOOTBRIDGE, columns: int = 12) -> BridgePar:
    found = par_of(brief, columns)
    assert found is not None
    return found


def test_the_bars_hold_every_joint_in_equilibrium() -> None:
    found = beam()
    asked = np.zeros((len(found.joints), 2))
    asked[found.joints.index((300.0, 0.0))] = (0.0, -100.0)
    for a, b, _, force in found.bars:
        pull = np.subtract(found.joints[b], found.joints[a])
        asked[a] += force * pull / np.hypot(*pull)
        asked[b] -= force * pull / np.hypot(*pull)
    left, right = found.joints.index((0.0, 0.0)), found.joints.index((600.0, 0.0))
    assert asked[left] == pytest.approx((0.0, -50.0), abs=1e-6)
    assert asked[right] == pytest.approx((0.0, -50.0), abs=1e-6)
    asked[[left, right]] = 0
    assert np.abs(asked).max() < 1e-6
    assert found.residual < 1e-9


def test_every_bar_works_at_its_strength_and_the_volume_is_their_sum() -> None:
    found = beam()
    for _, _, area, force in found.bars:
        assert force / area == pytest.approx(20.0 if force > 0 else -10.0)
    volume = sum(area * math.dist(found.joints[a], found.joints[b]) for a, b, area, _ in found.bars)
    assert volume == pytest.approx(found.volume_mm3)


def test_the_lower_bound_closes_upon_the_volume() -> None:
    for found in (beam(), beam(200.0), beam(above=50.0), bridge(library.brief("market-bridge")).side):
        assert found.volume_mm3 * (1 - 1.01e-4) <= found.bound_mm3 <= found.volume_mm3 * (1 + 1e-9)


def test_adding_bars_step_by_step_finds_what_all_bars_at_once_find(monkeypatch: pytest.MonkeyPatch) -> None:
    step_by_step = beam(250.0, above=190.0, columns=8)
    monkeypatch.setattr("worker.advice.par.ground.NEAR", 1000.0)
    at_once = beam(250.0, above=190.0 * (1 + 1e-12), columns=8)
    assert step_by_step.volume_mm3 == pytest.approx(at_once.volume_mm3, rel=1.01e-4)


def test_no_bar_leaves_the_envelope() -> None:
    found = bridge(library.brief("market-bridge")).side
    used = [found.joints[joint] for a, b, _, _ in found.bars for joint in (a, b)]
    assert max(y for _, y in used) <= 220 + 1e-9
    assert min(y for _, y in used) >= -60 - 1e-9
    assert min(x for x, _ in used) >= 0
    assert max(x for x, _ in used) <= 800 + 1e-9


@settings(max_examples=15)
@given(st.floats(0.1, 1e4), st.floats(0.1, 10), st.floats(1, 100), st.floats(1, 100))
def test_volume_grows_with_load_and_span_and_falls_with_strength(load, size, tension, compression) -> None:
    """For a like envelope V = load x span x a number; twice both strengths halve it."""

    def volume(load: float, size: float, stronger: float) -> float:
        supports = {(0.0, 0.0): PIN, (size, 0.0): ROLLER}
        loads = {(0.5 * size, 0.0): (0.0, -load)}
        found = par(size, 0.25 * size, 0.0, supports, loads, stronger * tension, stronger * compression, 6)
        assert found is not None
        return found.volume_mm3

    assert volume(3 * load, size, 1.0) == pytest.approx(3 * volume(load, size, 1.0), rel=2e-4)
    assert volume(load, 2 * size, 1.0) == pytest.approx(2 * volume(load, size, 1.0), rel=2e-4)
    assert volume(load, size, 2.0) == pytest.approx(volume(load, size, 1.0) / 2, rel=2e-4)


@settings(max_examples=15)
@given(st.integers(1, 11))
def test_a_load_and_its_mirror_image_need_the_same_wood(twelfth: int) -> None:
    assert beam(50.0 * twelfth).volume_mm3 == pytest.approx(beam(600 - 50.0 * twelfth).volume_mm3, rel=2e-4)


def test_more_depth_and_a_second_pin_never_need_more_wood() -> None:
    volumes = [beam(above=50.0 * rows).volume_mm3 for rows in (2, 3, 4, 5, 6)]
    assert all(deeper <= shallower * 1.0001 for shallower, deeper in pairwise(volumes))
    loads = {(300.0, 0.0): (0.0, -100.0)}
    pinned = par(600.0, 200.0, 0.0, {(0.0, 0.0): PIN, (600.0, 0.0): PIN}, loads, 20.0, 10.0, 12)
    assert pinned is not None
    assert pinned.volume_mm3 < beam().volume_mm3


@settings(max_examples=20)
@given(st.floats(40, 200), st.integers(2, 8))
def test_no_warren_girder_stressed_to_its_strength_is_lighter(depth: float, panels: int) -> None:
    """The girder's joints are off the grid, so a grid of 12 columns is given 3 %."""
    girder = warren(panels, 600.0 / panels, depth, 10.0)
    forces = statics(girder).forces
    volume = sum(
        abs(f) / (20.0 if f > 0 else 10.0) * girder.length_mm(m) for m in girder.members for f in [forces[m.name]]
    )
    loads = {(x, 0.0): load for n, load in girder.loads.items() for x, _ in [girder.joints[n][:2]]}
    found = par(600.0, 200.0, 0.0, {(0.0, 0.0): PIN, (600.0, 0.0): ROLLER}, loads, 20.0, 10.0, 12)
    assert found is not None
    assert volume >= 0.97 * found.bound_mm3


def test_where_no_truss_can_carry_the_load_there_is_no_par() -> None:
    supports = {(0.0, 0.0): PIN, (600.0, 0.0): ROLLER}
    assert par(600.0, 0.0, 0.0, supports, {(300.0, 0.0): (0.0, -1.0)}, 20.0, 10.0) is None
    slides_down = FOOTBRIDGE.model_copy(
        update={"supports": type(FOOTBRIDGE.supports)(left="roller y", right="roller y")}
    )
    assert par_of(slides_down, 8) is None
    assert par(600.0, 100.0, 0.0, supports, {(300.0, 0.0): (0.0, 0.0)}, 20.0, 10.0) is None


def test_a_place_between_the_columns_gets_a_joint_of_its_own() -> None:
    found = beam(333.3)
    assert any(math.dist(joint, (333.3, 0.0)) < 1e-9 for joint in found.joints)
    between = sorted((beam(300.0).volume_mm3, beam(350.0).volume_mm3))
    assert between[0] * 0.98 <= found.volume_mm3 <= between[1] * 1.02
    assert beam(300.05).volume_mm3 == pytest.approx(beam().volume_mm3, rel=2e-3)


def test_the_grid_stays_bounded_for_any_envelope() -> None:
    for above in (0.3, 299.0, 3000.0):
        found = par(
            600.0, above, 0.0, {(0.0, 0.0): PIN, (600.0, 0.0): PIN}, {(300.0, 0.0): (0.0, -1.0)}, 20.0, 10.0, 60
        )
        assert found is not None
        assert len(found.joints) <= 401


def test_par_of_a_brief_counts_all_sides_and_the_cross_members() -> None:
    found = bridge()
    assert found.ties_g == 15
    assert found.wood_g == pytest.approx(2 * 180e-6 * found.side.volume_mm3)
    assert found.efficiency == pytest.approx(200 / (found.mass_g * 9.80665e-3))
    assert sum(abs(f) for *_, f in found.side.bars) > 0


def test_a_larger_load_shares_the_cross_members_better() -> None:
    found = bridge()
    assert found.efficiency_at(400.0) == pytest.approx(400 / ((2 * found.wood_g + 15) * 9.80665e-3))
    assert found.efficiency_at(400.0) > found.efficiency > found.efficiency_at(100.0)


def test_an_uneven_share_makes_all_sides_as_strong_as_the_most_loaded() -> None:
    uneven = bridge(FOOTBRIDGE.model_copy(update={"share": 0.6}))
    assert uneven.wood_g == pytest.approx(1.2 * bridge().wood_g)


def test_a_missing_depth_limit_counts_as_half_the_span() -> None:
    limits = FOOTBRIDGE.limits.model_copy(update={"depth_above_mm": None})
    free = bridge(FOOTBRIDGE.model_copy(update={"limits": limits}))
    assert max(y for _, y in free.side.joints) == pytest.approx(300)
    huge = FOOTBRIDGE.limits.model_copy(update={"depth_above_mm": 5000.0})
    assert bridge(FOOTBRIDGE.model_copy(update={"limits": huge})).side == free.side


def test_a_load_along_the_deck_stands_at_the_fewest_panels_the_longest_member_allows() -> None:
    market = library.brief("market-bridge")
    thirds = market.model_copy(
        update={"load": market.load.model_copy(update={"places": (800 / 3, 1600 / 3), "target_N": 1000 / 3})}
    )
    assert bridge(market).side.volume_mm3 == pytest.approx(bridge(thirds).side.volume_mm3)


def test_no_design_beats_par_at_the_load_it_carries() -> None:
    text = """joints: {a: [0, 0], b: [150, 0], c: [300, 0], g: [450, 0], h: [600, 0], d: [150, 120], e: [300, 120], f: [450, 120]}
members: {a-b: square5, b-c: square5, c-g: square5, g-h: square5, a-d: square5 x2, d-e: square5 x2, e-f: square5 x2,
  f-h: square5 x2, b-d: square3, e-c: square3, f-g: square3, d-c: square5, f-c: square5}
"""
    strength = solve(read_truss(text.encode(), FOOTBRIDGE), FOOTBRIDGE).strength
    assert strength.failure_load_N is not None
    assert strength.efficiency is not None
    assert 0.1 < strength.efficiency / bridge().efficiency_at(strength.failure_load_N) < 1


def test_the_same_brief_gives_the_same_bars() -> None:
    from worker.advice.par import layout

    first = bridge()
    layout._unit_par.cache_clear()
    assert bridge() == first
