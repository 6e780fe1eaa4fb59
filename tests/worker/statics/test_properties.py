"""What holds for every truss, on trusses that hypothesis picks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trusses import made_redundant, mapped, mirrored, shuffled, triangulated, turned
from worker.statics import Solution, solve
from worker.truss.model import Truss, Vector


@st.composite
def trusses(draw: st.DrawFn) -> Truss:
    """Determinate and redundant ones, up to 12 joints, rollers on slopes, some with settlements."""
    seed = draw(st.integers(0, 10_000))
    truss = triangulated(
        seed,
        joints=draw(st.integers(3, 12)),
        slope_deg=draw(st.sampled_from([0.0, 20.0, -35.0])),
        settles=draw(st.booleans()),
    )
    extra = draw(st.integers(0, 3))
    return made_redundant(truss, seed, extra) if extra else truss


quick = settings(max_examples=60, deadline=None)


def largest_force(solution: Solution) -> float:
    reactions = (abs(x) for v in solution.reactions.values() for x in v)
    return max([*map(abs, solution.forces.values()), *reactions, 1e-300])


def movements(solution: Solution) -> Mapping[str, Vector]:
    assert solution.displacements is not None
    return solution.displacements


def assert_same(found: Solution, wanted: Solution, turn: Callable[[Vector], Vector] = tuple) -> None:
    """Forces alike, and vectors alike after ``turn``, to 1e-9 of the largest of their kind."""
    scale = 1e-9 * largest_force(wanted)
    assert found.forces == pytest.approx(dict(wanted.forces), abs=scale, rel=0)
    for joint, reaction in wanted.reactions.items():
        assert found.reactions[joint] == pytest.approx(turn(reaction), abs=scale, rel=0)
    moved = movements(wanted)
    furthest = max(abs(x) for v in moved.values() for x in v)
    for joint, movement in moved.items():
        assert movements(found)[joint] == pytest.approx(turn(movement), abs=1e-9 * furthest, rel=0)


@quick
@given(trusses())
def test_every_joint_is_in_equilibrium(truss: Truss) -> None:
    """Summed anew from the file's own members, not with the matrix that solved them."""
    solution = solve(truss)
    for joint, here in truss.joints.items():
        total = [sum(v) for v in zip(truss.loads[joint], solution.reactions.get(joint, (0, 0)), strict=True)]
        for m in truss.members:
            if joint in (m.start, m.end):
                there = truss.joints[m.end if joint == m.start else m.start]
                for k in range(2):
                    total[k] += solution.forces[m.name] * (there[k] - here[k]) / truss.length_mm(m)
        assert total == pytest.approx([0, 0], abs=1e-10 * largest_force(solution))
    assert solution.residual < 1e-10


@quick
@given(trusses())
def test_every_member_stretches_by_its_force_and_every_support_stays_where_it_settled(truss: Truss) -> None:
    moved = movements(solve(truss))
    forces = solve(truss).forces
    furthest = max(abs(x) for v in moved.values() for x in v)
    for m in truss.members:
        assert m.area_mm2 is not None
        assert m.modulus_MPa is not None
        length = truss.length_mm(m)
        stretch = sum(
            (moved[m.end][k] - moved[m.start][k]) * (truss.joints[m.end][k] - truss.joints[m.start][k]) / length
            for k in range(2)
        )
        wanted = forces[m.name] * length / (m.area_mm2 * m.modulus_MPa)
        assert stretch == pytest.approx(wanted, abs=1e-9 * furthest, rel=0)
    for joint, support in truss.supports.items():
        settled = truss.settlements.get(joint, (0.0, 0.0))
        for held in support.held:
            gap = sum(h * (u - s) for h, u, s in zip(held, moved[joint], settled, strict=True))
            assert gap == pytest.approx(0.0, abs=1e-9 * furthest)


@quick
@given(trusses(), st.floats(-3, 3), st.integers(0, 1000))
def test_the_forces_of_two_sets_of_loads_add_up(truss: Truss, factor: float, seed: int) -> None:
    other = dict(zip(truss.loads, triangulated(seed, len(truss.joints)).loads.values(), strict=True))
    both = {j: tuple(a + factor * b for a, b in zip(truss.loads[j], other[j], strict=True)) for j in other}
    first = solve(truss)
    second = solve(replace(truss, loads=other, settlements={}))
    together = solve(replace(truss, loads=both))
    scale = 1e-9 * max(map(largest_force, (first, second, together)))
    for name, force in together.forces.items():
        assert force == pytest.approx(first.forces[name] + factor * second.forces[name], abs=scale, rel=0)


@quick
@given(trusses())
def test_a_truss_in_a_mirror_has_the_same_forces(truss: Truss) -> None:
    assert_same(solve(mapped(truss, mirrored)), solve(truss), mirrored)


@quick
@given(trusses(), st.floats(-180, 180))
def test_a_turned_truss_has_the_same_forces(truss: Truss, degrees: float) -> None:
    assert_same(solve(mapped(truss, turned(degrees))), solve(truss), turned(degrees))


@quick
@given(trusses(), st.floats(1e-3, 1e3))
def test_the_size_of_a_truss_changes_no_force(truss: Truss, factor: float) -> None:
    """Movements grow with it, and settlements are made to."""

    def sized(vectors: Mapping[str, Vector]) -> dict[str, Vector]:
        return {name: tuple(factor * x for x in v) for name, v in vectors.items()}

    bigger = replace(truss, joints=sized(truss.joints), settlements=sized(truss.settlements))
    solution = solve(bigger)
    shrunk = {name: tuple(x / factor for x in v) for name, v in movements(solution).items()}
    assert_same(replace(solution, displacements=shrunk), solve(truss))
    assert solution.condition == pytest.approx(solve(truss).condition)


@quick
@given(trusses(), st.integers(0, 1000))
def test_order_and_names_change_nothing_to_the_last_digit(truss: Truss, seed: int) -> None:
    changed, new = shuffled(truss, seed)
    found, wanted = solve(changed), solve(truss)
    assert found.forces == wanted.forces
    assert found.reactions == {new[joint]: v for joint, v in wanted.reactions.items()}
    assert found.displacements == {new[joint]: v for joint, v in movements(wanted).items()}


@quick
@given(trusses(), st.integers(1, 4), st.integers(0, 1000))
def test_order_and_names_do_not_change_how_a_mechanism_moves(truss: Truss, missing: int, seed: int) -> None:
    weak = replace(truss, members=truss.members[missing:])
    changed, new = shuffled(weak, seed)
    found, wanted = solve(changed), solve(weak)
    assert found.state == wanted.state
    assert set(found.moving) == {new[joint] for joint in wanted.moving}
    assert list(found.motions) == [{new[joint]: v for joint, v in motion.items()} for motion in wanted.motions]


@quick
@given(trusses())
def test_the_work_of_one_load_in_the_movements_of_another_is_the_same_both_ways(truss: Truss) -> None:
    """Betti's theorem: holds for displacements only if the whole of them is right."""
    still = replace(truss, settlements={})
    first, *_, last = truss.joints
    a, b = {last: (1.0, 0.0)}, {last: (0.0, 1.0), first: (1.0, 1.0)}
    moved_by_a = movements(solve(replace(still, loads=a)))
    moved_by_b = movements(solve(replace(still, loads=b)))
    one = sum(p * u for joint, load in a.items() for p, u in zip(load, moved_by_b[joint], strict=True))
    other = sum(p * u for joint, load in b.items() for p, u in zip(load, moved_by_a[joint], strict=True))
    largest = max(abs(x) for v in [*moved_by_a.values(), *moved_by_b.values()] for x in v)
    assert one == pytest.approx(other, abs=1e-9 * largest, rel=0)
