"""Many variations of one truss in one pass."""

from __future__ import annotations

import random
import tracemalloc
from dataclasses import replace

import numpy as np
import pytest

from tests.trusses import AREA_MM2, MODULUS_MPA, made_redundant, pratt, triangulated, two_bar, warren
from worker.statics import solve
from worker.statics.batch import AT_ONCE, Moves, forces_for_loads, forces_for_stiffness
from worker.statics.redundant import StiffnessMissing
from worker.truss.model import Support, Truss


def redundant(extra: int = 2, settles: bool = True) -> Truss:
    truss = made_redundant(triangulated(4, joints=9, slope_deg=20.0, settles=settles), seed=4, extra=extra)
    return replace(truss, misfits={truss.members[3].name: 0.7, truss.members[-1].name: -0.4})


def loads_for(truss: Truss, count: int) -> np.ndarray:
    return np.random.default_rng(1).normal(0.0, 50.0, (count, len(truss.joints), 2))


def one_by_one(truss: Truss, loads: np.ndarray) -> np.ndarray:
    cases = [replace(truss, loads=dict(zip(truss.joints, map(tuple, row.tolist()), strict=True))) for row in loads]
    return np.array([list(solve(case).forces.values()) for case in cases])


def stiffened(truss: Truss, stiffness: np.ndarray) -> Truss:
    return replace(
        truss,
        members=tuple(
            replace(m, area_mm2=EA / MODULUS_MPA, modulus_MPa=MODULUS_MPA)
            for m, EA in zip(truss.members, stiffness, strict=True)
        ),
    )


@pytest.mark.parametrize("truss", [warren(), pratt(), redundant(), redundant(5)])
def test_many_loads_give_what_each_gives_alone(truss: Truss) -> None:
    loads = loads_for(truss, 20)
    found, wanted = forces_for_loads(truss, loads), one_by_one(truss, loads)
    assert found.shape == (20, len(truss.members))
    assert found == pytest.approx(wanted, abs=1e-10 * np.abs(wanted).max())


@pytest.mark.parametrize("truss", [warren(), redundant(1), redundant(3), redundant(6)])
def test_many_stiffnesses_give_what_each_gives_alone(truss: Truss) -> None:
    stiffness = AREA_MM2 * MODULUS_MPA * np.random.default_rng(2).lognormal(0.0, 0.5, (20, len(truss.members)))
    wanted = np.array([list(solve(stiffened(truss, row)).forces.values()) for row in stiffness])
    found = forces_for_stiffness(truss, stiffness)
    assert found == pytest.approx(wanted, abs=1e-10 * np.abs(wanted).max())


def test_the_order_of_members_and_joints_is_that_of_the_truss() -> None:
    truss = redundant()
    members = random.Random(3).sample(truss.members, len(truss.members))
    joints = random.Random(4).sample(list(truss.joints), len(truss.joints))
    mixed = replace(truss, members=tuple(members), joints={name: truss.joints[name] for name in joints})
    loads = loads_for(mixed, 3)
    assert forces_for_loads(mixed, loads) == pytest.approx(one_by_one(mixed, loads))
    stiffness = np.array([[m.area_mm2 * m.modulus_MPa for m in members]])
    assert forces_for_stiffness(mixed, stiffness)[0] == pytest.approx(list(solve(mixed).forces.values()))


def test_the_stiffness_of_a_determinate_truss_changes_nothing() -> None:
    found = forces_for_stiffness(warren(), np.array([[1.0] * 23, list(range(1, 24))]))
    assert np.array_equal(found[0], found[1])


def test_a_pass_in_several_parts_gives_the_same_as_in_one(monkeypatch: pytest.MonkeyPatch) -> None:
    truss = redundant(4)
    stiffness = np.random.default_rng(5).uniform(1e4, 1e5, (50, len(truss.members)))
    whole = forces_for_stiffness(truss, stiffness)
    monkeypatch.setattr("worker.statics.batch.AT_ONCE", 100)
    assert AT_ONCE > 100
    assert forces_for_stiffness(truss, stiffness) == pytest.approx(whole, rel=1e-12)


def test_no_variation_gives_no_row() -> None:
    assert forces_for_loads(warren(), np.zeros((0, 13, 2))).shape == (0, 23)
    assert forces_for_stiffness(redundant(), np.zeros((0, 17))).shape == (0, 17)


def test_a_mechanism_is_refused() -> None:
    weak = replace(warren(), supports={})
    with pytest.raises(Moves, match="mechanism"):
        forces_for_loads(weak, np.zeros((1, 13, 2)))
    with pytest.raises(Moves, match="mechanism"):
        forces_for_stiffness(weak, np.ones((1, 23)))


def test_an_array_of_another_shape_is_refused_with_the_shape_expected() -> None:
    with pytest.raises(ValueError, match=r"loads of shape \(1, 3, 3\); expected \(1, 3, 2\)"):
        forces_for_loads(two_bar(), np.zeros((1, 3, 3)))
    with pytest.raises(ValueError, match=r"stiffness of shape \(1, 3\); expected \(1, 2\)"):
        forces_for_stiffness(two_bar(), np.ones((1, 3)))


@pytest.mark.parametrize("bad", [0.0, -1.0, np.nan, np.inf])
def test_a_stiffness_that_is_no_positive_number_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="positive number"):
        forces_for_stiffness(two_bar(), np.array([[1.0, bad]]))


def test_loads_on_a_redundant_truss_of_unknown_stiffness_are_refused() -> None:
    truss = redundant()
    bare = replace(truss, members=tuple(replace(m, area_mm2=None) for m in truss.members))
    with pytest.raises(StiffnessMissing):
        forces_for_loads(bare, loads_for(bare, 1))


def test_a_determinate_truss_needs_no_stiffness_for_many_loads() -> None:
    bare = replace(warren(), members=tuple(replace(m, area_mm2=None) for m in warren().members))
    loads = loads_for(bare, 3)
    assert np.array_equal(forces_for_loads(bare, loads), forces_for_loads(warren(), loads))


def test_a_pinned_joint_without_members_has_no_forces_to_tell() -> None:
    pinned = Truss({"a": (0.0, 0.0)}, (), {"a": Support.pin()})
    assert forces_for_loads(pinned, np.ones((2, 1, 2))).shape == (2, 0)
    assert forces_for_stiffness(pinned, np.ones((2, 0))).shape == (2, 0)


def test_the_memory_for_many_stiffnesses_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    truss = redundant(12)
    stiffness = np.full((5000, len(truss.members)), 1e5)

    def peak(at_once: int) -> int:
        monkeypatch.setattr("worker.statics.batch.AT_ONCE", at_once)
        tracemalloc.start()
        forces_for_stiffness(truss, stiffness)
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        return most

    assert peak(10_000) < peak(10**9) - 5000 * 12 * 13 * 8 / 2  # half of one array of s (s + 1) numbers for each row


def test_the_refusals_are_told_in_full() -> None:
    with pytest.raises(Moves, match=r"^the truss is a mechanism: it moves under .* no forces hold it still$"):
        forces_for_loads(replace(warren(), supports={}), loads_for(warren(), 1))
    with pytest.raises(ValueError, match=r"^every stiffness must be a positive number$"):
        forces_for_stiffness(warren(), np.zeros((1, 23)))
