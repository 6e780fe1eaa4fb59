"""The path of a truss in its deformed shape, and the guess before it."""

from __future__ import annotations

import math
from dataclasses import replace
from time import perf_counter

import numpy as np
import pytest

from tests import whole
from tests.stability_trusses import arched, pyramid, star_dome
from tests.trusses import AREA_MM2, MODULUS_MPA, mapped, member, pratt, triangulated, turned, two_bar, warren
from worker.stability import is_shallow, limit_load, path, snap_estimate
from worker.stability.bars import Bars, deformed, softening
from worker.statics import StiffnessMissing, solve
from worker.statics.structure import Structure
from worker.truss.model import Support, Truss

EA = AREA_MM2 * MODULUS_MPA


def test_a_sound_girder_is_not_shallow_and_does_not_give_way() -> None:
    assert not is_shallow(pratt(), up_to=10.0)
    found = limit_load(pratt())
    assert (found.factor, found.kind, found.motion, found.warning) == (None, None, {}, None)
    assert 10 <= found.reached < 20


def test_small_loads_move_the_joints_as_linear_statics_says() -> None:
    truss = warren(load=1e-3)
    linear = solve(truss).displacements
    assert linear is not None
    found = limit_load(truss, up_to=1.0)
    for joint, movement in linear.items():
        wanted = tuple(found.reached * x for x in movement)
        assert found.displacements[joint] == pytest.approx(wanted, abs=1e-5 * abs(linear["b3"][1]))
    assert list(found.displacements) == list(truss.joints)


def test_a_truss_that_is_pulled_never_gives_way() -> None:
    found = limit_load(two_bar(100.0, 5.0, load=-50.0), up_to=50.0)
    assert (found.factor, found.warning) == (None, None)
    assert found.reached >= 50
    assert not is_shallow(two_bar(100.0, 5.0, load=-50.0))


def test_a_truss_without_loads_has_no_path() -> None:
    found = limit_load(replace(warren(), loads={}))
    assert (found.factor, found.warning) == (None, None)
    assert set(found.displacements.values()) == {(0.0, 0.0)}
    assert snap_estimate(replace(warren(), loads={})) is None


def test_a_limit_point_beyond_the_loads_of_interest_is_not_reported() -> None:
    truss = two_bar(100.0, 10.0, load=10.0)
    factor = limit_load(truss, up_to=100.0).factor
    assert factor is not None
    for share in (0.7, 0.9, 0.99, 0.9999, 1 - 1e-6):
        assert limit_load(truss, up_to=share * factor).factor is None
    assert limit_load(truss, up_to=1.01 * factor).factor == pytest.approx(factor)


def test_the_first_guess_is_two_thirds_of_the_shallow_cubic() -> None:
    """P = c ((h - w) h^2 - (h - w)^3): K = c (3 (h - w)^2 - h^2) falls by 6 c h per mm, so the guess is 2 c h^3 / 3."""
    rise, span = 0.5, 100.0
    guess = snap_estimate(two_bar(span, rise, load=1.0))
    assert guess == pytest.approx(2 / 3 * (EA / span**3) * rise**3, rel=1e-3)


@pytest.mark.parametrize("case", list(whole.shallow_cases())[:30])
def test_the_guess_is_at_most_twice_the_load_at_which_a_truss_gives_way(case: whole.Case) -> None:
    guess, found = snap_estimate(case.truss), limit_load(case.truss, up_to=1e4)
    assert guess is not None
    assert found.factor is not None
    assert guess <= 2.0 * found.factor
    assert is_shallow(case.truss, up_to=found.factor)


def test_the_tangent_is_the_slope_of_the_resistance() -> None:
    bars = Bars.of(Structure.of(star_dome()))
    rng = np.random.default_rng(1)
    z, way = rng.normal(size=(2, len(bars.loads)))
    step = 1e-5
    slope = (deformed(bars, z + step * way).resistance - deformed(bars, z - step * way).resistance) / (2 * step)
    assert np.abs(slope - deformed(bars, z).tangent @ way).max() < 1e-6 * np.abs(slope).max()


def test_the_softening_is_the_slope_of_the_tangent() -> None:
    bars = Bars.of(Structure.of(star_dome()))
    way = np.random.default_rng(2).normal(size=len(bars.loads))
    step = 1e-5
    slope = (deformed(bars, step * way).tangent - deformed(bars, -step * way).tangent) / (2 * step)
    assert np.abs(slope - softening(bars, way)).max() < 1e-6 * np.abs(slope).max()


def test_a_path_that_is_lost_says_how_far_it_came(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(path, "STEPS", 5)
    found = limit_load(two_bar(100.0, 10.0, load=10.0))
    assert found.factor is None
    assert 0 < found.reached < 10
    assert found.warning is not None
    assert found.warning.startswith(f"Snap-through was looked for and not found up to {found.reached:.2f}"[:-2])


def test_a_limit_that_cannot_be_closed_in_on_is_called_rough(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(path, "LOCATIONS", 1)
    found = limit_load(two_bar(100.0, 10.0, load=10.0))
    assert found.factor is not None
    assert found.warning == "The load at which the truss gives way could be found only roughly."


@pytest.mark.parametrize("seed", range(12))
def test_absurd_loads_neither_hang_nor_fail(seed: int) -> None:
    """Loads a thousand times what any wood bears: an answer or a warning, soon."""
    truss = triangulated(seed, 4 + seed)
    wild = replace(truss, loads={j: tuple(1e5 * x for x in v) for j, v in truss.loads.items()})
    begin = perf_counter()
    found = limit_load(wild)
    assert perf_counter() - begin < 5
    assert math.isfinite(found.reached)
    assert found.factor is not None or found.warning is not None or found.reached >= 10


def test_a_mechanism_and_an_unknown_stiffness_are_refused() -> None:
    weak = replace(warren(), members=warren().members[1:])
    with pytest.raises(ValueError, match="is a mechanism"):
        limit_load(weak)
    with pytest.raises(ValueError, match="is a mechanism"):
        snap_estimate(weak)
    bare = replace(warren(), members=tuple(replace(m, modulus_MPa=None) for m in warren().members))
    with pytest.raises(StiffnessMissing, match="Give an area"):
        limit_load(bare)


@pytest.mark.parametrize("degrees", [0.0, 12.3, 33.3, 77.7, 141.0])
def test_a_critical_form_is_refused_although_its_count_is_right(degrees: float) -> None:
    joints = {"a": (0.0, 0.0), "b": (50.0, 0.0), "c": (100.0, 0.0)}
    supports = {"a": Support.pin(), "c": Support.pin()}
    line = Truss(joints, (member("a", "b"), member("b", "c")), supports, {"b": (0.0, -1.0)})
    with pytest.raises(ValueError, match="is a mechanism"):
        limit_load(mapped(line, turned(degrees)))


def test_a_narrow_window_of_instability_is_not_stepped_over() -> None:
    """At 67.45 degrees the sideways stiffness of two bars is negative for a short way only."""
    found = limit_load(two_bar(100.0, 100 * math.tan(math.radians(67.45)), load=0.1 * EA))
    assert found.kind == "branch"


@pytest.mark.parametrize("truss", [pyramid(4, 8.0, 50.0), arched(6, 25.0, 6.0), star_dome()])
def test_the_state_at_the_limit_is_in_equilibrium(truss: Truss) -> None:
    """Summed anew from the moved joints and each bar's own stretch."""
    found = limit_load(truss, up_to=1e4)
    assert found.factor is not None
    at = {j: [x + u for x, u in zip(truss.joints[j], found.displacements[j], strict=True)] for j in truss.joints}
    total = {j: [found.factor * x for x in truss.loads.get(j, [0.0] * len(v))] for j, v in at.items()}
    largest = 0.0
    for m in truss.members:
        length = math.dist(at[m.start], at[m.end])
        force = (m.area_mm2 or 0.0) * (m.modulus_MPa or 0.0) * (length / truss.length_mm(m) - 1)
        largest = max(largest, abs(force))
        for k, (a, b) in enumerate(zip(at[m.start], at[m.end], strict=True)):
            total[m.start][k] += force * (b - a) / length
            total[m.end][k] -= force * (b - a) / length
    free = [x for j, v in total.items() if j not in truss.supports for x in v]
    assert max(map(abs, free)) < 1e-7 * largest


def heavy(seed: int) -> Truss:
    """Trusses of many kinds; followed to four times the first guess their movements are very large."""
    kinds = (
        lambda: triangulated(seed, 4 + seed % 8),
        lambda: whole.space(seed, 5 + seed % 6, seed % 3),
        lambda: arched(4 + 2 * (seed % 4), 10.0 + seed, 3.0 + seed % 7),
        lambda: (pratt, warren)[seed % 2](4 + seed % 9, 100.0, 10.0 + 3 * seed),
        lambda: pratt(7, load=1e4),
    )
    return kinds[seed % 5]()


@pytest.mark.parametrize("seed", range(25))
def test_ten_times_shorter_steps_find_the_same_point(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    truss = heavy(seed)
    up_to = 4 * (snap_estimate(truss) or 1.0)
    found = limit_load(truss, up_to)
    for name, value in (("FIRST", path.FIRST / 10), ("LONGEST", path.LONGEST / 10), ("STEPS", 10 * path.STEPS)):
        monkeypatch.setattr(path, name, value)
    finer = limit_load(truss, up_to)
    assert (found.warning, finer.warning) == (None, None)
    assert found.kind == finer.kind
    assert finer.factor == (found.factor if found.factor is None else pytest.approx(found.factor, rel=1e-7))


def test_a_long_step_does_not_leave_the_path_for_another(monkeypatch: pytest.MonkeyPatch) -> None:
    """From this start the longest steps reach a sharp bend where another path lies near."""
    truss = pratt(7, load=1e4)
    wanted = limit_load(truss).factor
    monkeypatch.setattr(path, "FIRST", 0.02)
    assert limit_load(truss).factor == pytest.approx(wanted, rel=1e-7)


def test_a_permanent_load_takes_its_part_of_the_load_that_snaps_a_truss_through() -> None:
    truss = two_bar(100.0, 10.0, load=10.0)
    alone = limit_load(truss, up_to=100.0).factor
    assert alone is not None
    (joint, (x, y)), k = next(iter(truss.loads.items())), 0.4 * alone
    assert limit_load(replace(truss, permanent={joint: (k * x, k * y)}), up_to=100.0).factor == pytest.approx(
        0.6 * alone, rel=1e-6
    )
    k = 1.05 * alone
    assert limit_load(replace(truss, permanent={joint: (k * x, k * y)}), up_to=100.0).factor == 0.0
