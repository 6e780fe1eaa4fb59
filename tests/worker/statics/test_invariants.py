"""What holds for plane and space trusses alike, with misfits, in one pass and one by one."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trusses import grown_in_space, made_redundant, mapped, misfitting, shuffled, triangulated
from tests.worker.statics.referees import space_redundant
from worker.statics import Solution, forces_for_loads, forces_for_stiffness, solve
from worker.statics.loading import travelling
from worker.truss.model import Truss, Vector
from worker.truss.reader import read_truss

quick = settings(max_examples=40, deadline=None)


@st.composite
def trusses(draw: st.DrawFn) -> Truss:
    """Plane or space, determinate or redundant; misfits and settlements in some."""
    seed = draw(st.integers(0, 10_000))
    kind = draw(st.sampled_from(["plane", "plane redundant", "space", "space redundant"]))
    if kind == "space":
        return misfitting(grown_in_space(seed, draw(st.integers(4, 9))), seed)
    if kind == "space redundant":
        return space_redundant(seed)
    truss = triangulated(seed, draw(st.integers(3, 10)), slope_deg=draw(st.sampled_from([0.0, 25.0])))
    return misfitting(made_redundant(truss, seed, 2) if kind == "plane redundant" else truss, seed)


def dimension(truss: Truss) -> int:
    return len(next(iter(truss.joints.values())))


def rotation(seed: int, d: int) -> Callable[[Vector], Vector]:
    """A rotation at random, without reflection."""
    q, _ = np.linalg.qr(np.random.default_rng(seed).normal(size=(d, d)))
    q[:, 0] *= np.linalg.det(q)
    return lambda v: tuple((q @ v).tolist())


def mirrored(v: Vector) -> Vector:
    return (0.0 - v[0], *v[1:])


def movements(solution: Solution) -> Mapping[str, Vector]:
    assert solution.displacements is not None
    return solution.displacements


def work(loads: Mapping[str, Vector], moved: Mapping[str, Vector]) -> float:
    return sum(p * u for joint, load in loads.items() for p, u in zip(load, moved[joint], strict=True))


def assert_same(found: Solution, wanted: Solution, turn: Callable[[Vector], Vector]) -> None:
    largest = max([1e-300, *map(abs, wanted.forces.values()), *(abs(x) for r in wanted.reactions.values() for x in r)])
    assert found.forces == pytest.approx(wanted.forces, abs=1e-9 * largest, rel=0)
    for joint, reaction in wanted.reactions.items():
        assert found.reactions[joint] == pytest.approx(turn(reaction), abs=1e-9 * largest, rel=0)
    furthest = max(abs(x) for u in movements(wanted).values() for x in u)
    for joint, moved in movements(wanted).items():
        assert movements(found)[joint] == pytest.approx(turn(moved), abs=1e-9 * furthest, rel=0)


@quick
@given(trusses(), st.integers(0, 1000))
def test_a_truss_turned_in_plane_or_space_has_the_same_forces(truss: Truss, seed: int) -> None:
    turn = rotation(seed, dimension(truss))
    assert_same(solve(mapped(truss, turn)), solve(truss), turn)


@quick
@given(trusses(), st.lists(st.floats(-1e4, 1e4), min_size=3, max_size=3))
def test_a_truss_that_stands_elsewhere_has_the_same_forces(truss: Truss, shift: list[float]) -> None:
    there = {name: tuple(a + b for a, b in zip(v, shift, strict=False)) for name, v in truss.joints.items()}
    assert_same(solve(replace(truss, joints=there)), solve(truss), tuple)


@quick
@given(trusses())
def test_a_truss_in_a_mirror_has_the_same_forces(truss: Truss) -> None:
    assert_same(solve(mapped(truss, mirrored)), solve(truss), mirrored)


@quick
@given(trusses(), st.integers(0, 1000))
def test_order_and_names_change_nothing_to_the_last_digit(truss: Truss, seed: int) -> None:
    changed, new = shuffled(truss, seed)
    found, wanted = solve(changed), solve(truss)
    assert found.forces == wanted.forces
    assert found.displacements == {new[joint]: v for joint, v in movements(wanted).items()}


@quick
@given(trusses())
def test_the_loads_do_as_much_work_as_the_members_store(truss: Truss) -> None:
    """Clapeyron: sum P u = sum N^2 L / (E A), with supports that do not move and members that fit."""
    still = replace(truss, settlements={}, misfits={})
    solution = solve(still)
    stored = sum(
        solution.forces[m.name] ** 2 * truss.length_mm(m) / ((m.area_mm2 or 0) * (m.modulus_MPa or 0))
        for m in truss.members
    )
    assert work(still.loads, movements(solution)) == pytest.approx(stored, rel=1e-9)


@quick
@given(trusses())
def test_virtual_work_balances_with_misfits_and_settlements(truss: Truss) -> None:
    """Any forces in balance do the same work without as within: sum P u + sum R s = sum N (N L / (E A) + misfit)."""
    solution = solve(truss)
    within = sum(
        N * (N * truss.length_mm(m) / ((m.area_mm2 or 0) * (m.modulus_MPa or 0)) + truss.misfits.get(m.name, 0.0))
        for m, N in zip(truss.members, solution.forces.values(), strict=True)
    )
    moved = movements(solution)
    without = work(truss.loads, moved) + work(solution.reactions, moved)
    size = sum(abs(p) for load in truss.loads.values() for p in load) * max(abs(x) for u in moved.values() for x in u)
    assert without == pytest.approx(within, abs=1e-9 * size, rel=0)


@quick
@given(trusses(), st.integers(0, 1000))
def test_the_work_of_one_load_in_the_movements_of_another_is_the_same_both_ways(truss: Truss, seed: int) -> None:
    """Betti's theorem."""
    rng = random.Random(seed)
    still = replace(truss, settlements={}, misfits={})
    one, other = (
        {j: tuple(rng.uniform(-9, 9) for _ in v) for j, v in truss.joints.items() if rng.random() < 0.7} for _ in "ab"
    )
    moved = [movements(solve(replace(still, loads=loads))) for loads in (one, other)]
    size = max(abs(x) for u in moved for v in u.values() for x in v) * 9 * 3 * len(truss.joints)
    assert work(one, moved[1]) == pytest.approx(work(other, moved[0]), abs=1e-10 * size, rel=0)


@quick
@given(trusses())
def test_loads_misfits_and_settlements_add_up(truss: Truss) -> None:
    bare = replace(truss, loads={}, misfits={}, settlements={})
    parts = [solve(replace(bare, **{what: getattr(truss, what)})) for what in ("loads", "misfits", "settlements")]
    whole = solve(truss)
    largest = max(abs(N) for part in (*parts, whole) for N in part.forces.values())
    for name, force in whole.forces.items():
        assert force == pytest.approx(sum(part.forces[name] for part in parts), abs=1e-9 * largest, rel=0)


@quick
@given(trusses(), st.integers(0, 1000))
def test_a_pass_over_many_variations_gives_what_each_gives_alone(truss: Truss, seed: int) -> None:
    rng = np.random.default_rng(seed)
    loads = rng.normal(0, 50, (2, len(truss.joints), dimension(truss)))
    EA = np.array([(m.area_mm2 or 0) * (m.modulus_MPa or 0) for m in truss.members])
    softer = np.stack([EA, EA * rng.uniform(0.5, 1.0, len(EA))])
    alone = solve(replace(truss, loads=dict(zip(truss.joints, map(tuple, loads[1].tolist()), strict=True))))
    largest = max(map(abs, alone.forces.values()))
    assert forces_for_loads(truss, loads)[1] == pytest.approx(list(alone.forces.values()), abs=1e-9 * largest)
    members = tuple(replace(m, area_mm2=k, modulus_MPa=1.0) for m, k in zip(truss.members, softer[1], strict=True))
    soft = solve(replace(truss, members=members)).forces
    largest = max(map(abs, soft.values()))
    assert forces_for_stiffness(truss, softer)[1] == pytest.approx(list(soft.values()), abs=1e-9 * largest)


@quick
@given(trusses(), st.floats(0.1, 100))
def test_a_force_lies_within_its_envelope_and_grows_with_the_load(truss: Truss, load: float) -> None:
    deck = list(truss.joints)
    once, again = travelling(truss, deck, load), travelling(truss, deck, 2 * load)
    for name, line in once.influence.items():
        low, high = once.lowest[name].force_N, once.highest[name].force_N
        largest = max(abs(low), abs(high))
        assert all(low - 1e-9 * largest <= load * y <= high + 1e-9 * largest for y in line)
        assert again.highest[name].force_N == pytest.approx(2 * high, abs=1e-9 * largest)


@quick
@given(st.integers(0, 10_000), st.sampled_from([("m", "kN", 1e-3, 1e-3), ("cm", "N", 0.1, 1.0)]))
def test_the_units_of_a_file_change_no_force(seed: int, unit: tuple[str, str, float, float]) -> None:
    truss = made_redundant(triangulated(seed, 6), seed, 1)
    length, force, per_mm, per_N = unit

    def written(length: str, force: str, per_mm: float, per_N: float) -> str:
        joints = ", ".join(f"{n}: [{x * per_mm:.15f}, {y * per_mm:.15f}]" for n, (x, y) in truss.joints.items())
        loads = ", ".join(f"{n}: [{x * per_N:.15f}, {y * per_N:.15f}]" for n, (x, y) in truss.loads.items())
        bars = ", ".join(f"{m.name}: {{area: {m.area_mm2:.15f} mm2, modulus: 3.4 GPa}}" for m in truss.members)
        head = f"units: {length}\nforce: {force}\njoints: {{{joints}}}\nmembers: {{{bars}}}\n"
        return f"{head}supports: {{j0: pin, j1: roller}}\nloads: {{{loads}}}\n"

    plain = solve(read_truss(written("mm", "N", 1.0, 1.0).encode()))
    other = solve(read_truss(written(length, force, per_mm, per_N).encode()))
    largest = max(map(abs, plain.forces.values()))
    assert math.isfinite(largest)
    assert other.forces == pytest.approx(plain.forces, abs=1e-9 * largest, rel=0)
