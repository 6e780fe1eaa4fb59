"""What holds for the stability of every truss, on trusses that hypothesis picks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trusses import made_redundant, mapped, mirrored, shuffled, triangulated, turned
from tests.whole import Case, shallow_cases, space
from worker.stability import buckling, limit_load, snap_estimate
from worker.statics import solve
from worker.truss.model import Truss, Vector

quick = settings(max_examples=40, deadline=None)
SHALLOW: list[Case] = list(shallow_cases())


@st.composite
def trusses(draw: st.DrawFn) -> Truss:
    """Plane ones with rollers on slopes and space ones, determinate and redundant."""
    seed, extra = draw(st.integers(0, 10_000)), draw(st.integers(0, 2))
    if draw(st.booleans()):
        return space(seed, draw(st.integers(4, 10)), extra)
    truss = triangulated(seed, draw(st.integers(3, 12)), draw(st.sampled_from([0.0, 20.0, -35.0])))
    return made_redundant(truss, seed, extra) if extra else truss


shallow = st.sampled_from(SHALLOW).map(lambda case: case.truss)


def factor(truss: Truss) -> float | None:
    return buckling(truss, solve(truss).forces).factor


def same(value: float | None) -> object:
    return value if value is None else pytest.approx(value, rel=1e-7)


def flat_turn(turn: Callable[[Vector], Vector]) -> Callable[[Vector], Vector]:
    """The turn in the plane of x and y, whatever z."""
    return lambda v: (*turn(v[:2]), *v[2:])


def scaled(truss: Truss, size: float = 1.0, load: float = 1.0, stiffness: float = 1.0) -> Truss:
    return replace(
        truss,
        joints={name: tuple(size * x for x in v) for name, v in truss.joints.items()},
        members=tuple(replace(m, modulus_MPa=stiffness * (m.modulus_MPa or 0.0)) for m in truss.members),
        loads={name: tuple(load * x for x in v) for name, v in truss.loads.items()},
    )


@quick
@given(trusses(), st.floats(-180, 180))
def test_a_turned_truss_buckles_at_the_same_factor(truss: Truss, degrees: float) -> None:
    assert factor(mapped(truss, flat_turn(turned(degrees)))) == same(factor(truss))


@quick
@given(trusses())
def test_a_truss_in_a_mirror_buckles_at_the_same_factor(truss: Truss) -> None:
    assert factor(mapped(truss, flat_turn(mirrored))) == same(factor(truss))


@quick
@given(trusses(), st.integers(0, 1000))
def test_order_and_names_do_not_change_the_factor(truss: Truss, seed: int) -> None:
    assert factor(shuffled(truss, seed)[0]) == same(factor(truss))


@quick
@given(trusses(), st.floats(1e-3, 1e3))
def test_the_factor_falls_as_the_load_grows(truss: Truss, times: float) -> None:
    found = factor(truss)
    assert factor(scaled(truss, load=times)) == same(found if found is None else found / times)


@quick
@given(trusses(), st.floats(1e-2, 1e2), st.floats(1e-2, 1e2))
def test_the_factor_grows_with_the_modulus_and_not_with_the_size(truss: Truss, size: float, stiffer: float) -> None:
    """Areas kept: forces stay, and both stiffnesses fall alike with the lengths."""
    found = factor(truss)
    assert factor(scaled(truss, size=size, stiffness=stiffer)) == same(found if found is None else found * stiffer)


@quick
@given(trusses(), st.integers(0, 30), st.floats(1.0, 20.0))
def test_a_stiffer_member_never_lowers_the_factor_of_the_same_forces(truss: Truss, which: int, times: float) -> None:
    forces = solve(truss).forces
    index = which % len(truss.members)
    members = list(truss.members)
    members[index] = replace(members[index], modulus_MPa=times * (members[index].modulus_MPa or 0.0))
    before, after = (buckling(t, forces).factor for t in (truss, replace(truss, members=tuple(members))))
    assert (before is None) == (after is None)
    assert before is None or after is None or after >= before * (1 - 1e-9)


@quick
@given(shallow, st.floats(-180, 180))
def test_a_turned_truss_snaps_through_at_the_same_load(truss: Truss, degrees: float) -> None:
    again = limit_load(mapped(truss, flat_turn(turned(degrees))), up_to=1e4)
    assert again.factor == same(limit_load(truss, up_to=1e4).factor)


@quick
@given(shallow, st.floats(1e-2, 1e2), st.floats(1e-2, 1e2), st.floats(1e-2, 1e2))
def test_the_limit_load_scales_with_units(truss: Truss, size: float, load: float, stiffness: float) -> None:
    found = limit_load(truss, up_to=1e4).factor
    assert found is not None
    changed = scaled(truss, size, load, stiffness)
    wanted = found * stiffness / load
    assert limit_load(changed, up_to=2 * wanted).factor == pytest.approx(wanted, rel=1e-6)
    assert snap_estimate(changed) == pytest.approx((snap_estimate(truss) or 0.0) * stiffness / load, rel=1e-6)


@quick
@given(shallow)
def test_a_shallow_truss_in_a_mirror_snaps_through_at_the_same_load(truss: Truss) -> None:
    again = limit_load(mapped(truss, flat_turn(mirrored)), up_to=1e4)
    assert again.factor == same(limit_load(truss, up_to=1e4).factor)
