"""What holds for every frame, on trusses that hypothesis picks."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trusses import made_redundant, mapped, mirrored, shuffled, triangulated, turned
from tests.whole import second_moments
from worker.frame import FrameSolution, frame
from worker.statics import solve
from worker.truss.model import Truss

quick = settings(max_examples=40, deadline=None)


@st.composite
def trusses(draw: st.DrawFn) -> Truss:
    seed, extra = draw(st.integers(0, 10_000)), draw(st.integers(0, 2))
    truss = triangulated(
        seed, draw(st.integers(3, 10)), draw(st.sampled_from([0.0, 20.0, -35.0])), settles=draw(st.booleans())
    )
    return made_redundant(truss, seed, extra) if extra else truss


def solved(truss: Truss, stiffer: float = 1.0) -> FrameSolution:
    moments = {name: stiffer * value for name, value in second_moments(truss).items()}
    return frame(truss, moments, dict.fromkeys(moments, 3.0))


def assert_same(found: FrameSolution, wanted: FrameSolution, sign: float = 1.0) -> None:
    """Axial forces alike, end moments alike times ``sign``, to 1e-8 of the largest of their kind."""
    scale = 1e-8 * max(map(abs, wanted.forces.values()))
    assert found.forces == pytest.approx(dict(wanted.forces), abs=scale, rel=0)
    largest = max(abs(x) for ends in wanted.end_moments.values() for x in ends)
    for name, ends in wanted.end_moments.items():
        assert found.end_moments[name] == pytest.approx(tuple(sign * x for x in ends), abs=1e-8 * largest, rel=0)


@quick
@given(trusses(), st.floats(-180, 180))
def test_a_turned_frame_bends_the_same(truss: Truss, degrees: float) -> None:
    assert_same(solved(mapped(truss, turned(degrees))), solved(truss))


@quick
@given(trusses())
def test_a_frame_in_a_mirror_bends_the_other_way_round(truss: Truss) -> None:
    assert_same(solved(mapped(truss, mirrored)), solved(truss), sign=-1.0)


@quick
@given(trusses(), st.integers(0, 1000))
def test_order_and_names_change_no_force(truss: Truss, seed: int) -> None:
    found, wanted = solved(shuffled(truss, seed)[0]), solved(truss)
    assert found.forces == pytest.approx(dict(wanted.forces), abs=1e-8 * max(map(abs, wanted.forces.values())))
    assert found.bending_share == pytest.approx(wanted.bending_share)


@quick
@given(trusses(), st.floats(1e-2, 1e2), st.floats(1e-2, 1e2))
def test_another_unit_of_length_and_force_changes_only_the_numbers(truss: Truss, mm: float, newton: float) -> None:
    """Lengths times ``mm``, areas its square, second moments its fourth power, moduli as force over area."""

    def sized(vectors: dict[str, tuple[float, ...]], by: float) -> dict[str, tuple[float, ...]]:
        return {name: tuple(by * x for x in v) for name, v in vectors.items()}

    other = replace(
        truss,
        joints=sized(dict(truss.joints), mm),
        settlements=sized(dict(truss.settlements), mm),
        loads=sized(dict(truss.loads), newton),
        members=tuple(
            replace(m, area_mm2=(m.area_mm2 or 0) * mm**2, modulus_MPa=(m.modulus_MPa or 0) * newton / mm**2)
            for m in truss.members
        ),
    )
    found, wanted = solved(other), solved(truss)
    assert_same(
        replace(
            found,
            forces={name: force / newton for name, force in found.forces.items()},
            end_moments={name: (a / newton / mm, b / newton / mm) for name, (a, b) in found.end_moments.items()},
        ),
        wanted,
    )


@quick
@given(trusses())
def test_the_frame_becomes_the_truss_as_its_members_lose_their_stiffness_in_bending(truss: Truss) -> None:
    hinged, soft = solve(truss), solved(truss, stiffer=1e-7)
    largest = max(map(abs, hinged.forces.values()))
    assert soft.forces == pytest.approx(dict(hinged.forces), abs=1e-4 * largest)
    assert soft.largest_change is not None
    assert hinged.displacements is not None
    furthest = max(abs(x) for v in hinged.displacements.values() for x in v)
    for joint, movement in hinged.displacements.items():
        assert soft.displacements[joint] == pytest.approx(movement, abs=1e-4 * furthest)


@quick
@given(trusses())
def test_rigid_joints_never_let_the_loads_sink_further(truss: Truss) -> None:
    """The frame is the truss with more stiffness: the work of the loads can only fall."""
    still = replace(truss, settlements={})

    def work(movements: object) -> float:
        assert isinstance(movements, dict)
        return sum(f * u for j, load in still.loads.items() for f, u in zip(load, movements[j], strict=True))

    assert work(solved(still).displacements) <= work(solve(still).displacements) * (1 + 1e-9)


@quick
@given(trusses())
def test_the_work_of_the_loads_is_the_energy_of_stretching_and_bending(truss: Truss) -> None:
    """W = 1/2 sum P u;  U = sum N^2 L / 2 E A + L (M1^2 - M1 M2 + M2^2) / 6 E I (any text)."""
    still = replace(truss, settlements={})
    found, moments = solved(still), second_moments(still)
    work = sum(f * u for j, load in still.loads.items() for f, u in zip(load, found.displacements[j], strict=True)) / 2
    energy = 0.0
    for m in still.members:
        assert m.area_mm2 is not None
        assert m.modulus_MPa is not None
        length, (a, b) = still.length_mm(m), found.end_moments[m.name]
        energy += found.forces[m.name] ** 2 * length / (2 * m.modulus_MPa * m.area_mm2)
        energy += length * (a * a - a * b + b * b) / (6 * m.modulus_MPa * moments[m.name])
    assert energy == pytest.approx(work, rel=1e-8)
