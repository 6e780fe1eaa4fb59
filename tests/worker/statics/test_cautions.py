"""Every caution in full, and where each begins and ends."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.trusses import AREA_MM2, made_redundant, member, pratt, two_bar, warren
from worker.statics import StiffnessMissing, cautions, solve
from worker.statics.equilibrium import equilibrium_matrix, rigidity
from worker.statics.structure import Structure
from worker.truss.model import Support, Truss


def crossed(area_mm2: float) -> Truss:
    """A square with both diagonals, the second of which has another area."""
    joints = {"a": (0, 0), "b": (100, 0), "c": (100, 100), "d": (0, 100)}
    members = (*(member(*p) for p in ("ab", "bc", "cd", "da", "ac")), member("b", "d", area_mm2))
    return Truss(joints, members, {"a": Support.pin(), "b": Support.roller()}, {"c": (1.0, 0.0)})


def test_a_critical_form_is_told_in_full() -> None:
    joints = {"a": (0, 0), "b": (50, 0), "c": (100, 0)}
    pins = {"a": Support.pin(), "c": Support.pin()}
    assert solve(Truss(joints, (member("a", "b"), member("b", "c")), pins)).warnings == (
        "The shape is a critical form: 2 members and 4 held directions would hold these 3 joints better "
        "if one of them stood elsewhere. Look for members in one line, or reactions through one point. "
        "Move a joint, or add a bar.",
    )


def test_a_bar_in_the_wrong_place_is_told_in_full() -> None:
    kept = tuple(m for m in pratt().members if m.name != "t2-b3")
    assert solve(replace(pratt(), members=(*kept, member("b4", "t3")))).warnings == (
        "Counting does not show this: 21 members and 3 held directions are enough for 12 joints. "
        "They are in the wrong places: one part has too many and another has too few.",
    )


def test_a_truss_close_to_a_mechanism_is_told_in_full() -> None:
    solution = solve(two_bar(half_span=300.0, rise=0.3))
    assert solution.warnings == (
        "The truss is stable, but nearly a mechanism: joint b can move while the members hardly stretch "
        f"(condition number {solution.condition:.1e}). A small change of shape changes the forces a lot.",
    )


@pytest.mark.parametrize(("slope", "cautions_given"), [(48, 0), (49, 1), (5.3e6, 1), (5.5e6, 2)])
def test_two_members_that_rise_1_in_49_begin_to_be_nearly_a_mechanism_and_far_flatter_lose_digits(
    slope: float, cautions_given: int
) -> None:
    solution = solve(two_bar(half_span=300.0, rise=300 / slope))
    assert len(solution.warnings) == cautions_given
    assert (solution.condition > 10 * 3**2) == (cautions_given > 0)
    assert (solution.condition > 1e7) == (cautions_given > 1)


def test_a_residual_just_at_the_bound_is_still_in_balance() -> None:
    structure = Structure.of(two_bar())
    E = equilibrium_matrix(structure)
    assert cautions.stable(structure, E, rigidity(E), cautions.OUT_OF_BALANCE) == ()


def test_a_sound_redundant_truss_has_no_caution_and_settles_with_its_supports() -> None:
    truss = replace(crossed(AREA_MM2), settlements={"a": (0.0, -2.0), "b": (0.0, 1.0)})
    assert solve(truss).warnings == ()


def test_a_million_times_stiffer_names_the_stiffest_and_the_weakest_and_their_ratio() -> None:
    said = "Member b-d is 1.0e+06 times as stiff as member d-a. Check the units of their areas and moduli."
    assert solve(crossed(AREA_MM2 * 1e6)).warnings == (said,)
    assert solve(crossed(AREA_MM2 * 0.99e6)).warnings == ()
    weak = solve(crossed(AREA_MM2 / 2e6)).warnings
    assert weak[0].startswith("Member d-a is 2.0e+06 times as stiff as member b-d.")


@pytest.mark.parametrize("size", [1.0, 1e-10])
def test_a_settlement_that_is_lost_is_told_in_full_beside_a_spread_of_stiffness(size: float) -> None:
    lost, spread = solve(replace(crossed(AREA_MM2 * 1e6), settlements={"b": (size, 0.0)})).warnings
    assert lost == (
        "The settlement of joint b is partly in a direction in which its support does not hold it; "
        "that part is left out."
    )
    assert spread.startswith("Member b-d is 1.0e+06 times as stiff")


def test_a_redundant_truss_of_unknown_stiffness_is_refused_in_full() -> None:
    truss = crossed(AREA_MM2)
    bare = replace(truss, members=tuple(replace(m, area_mm2=None) for m in truss.members[:2]) + truss.members[2:])
    said = "the truss is redundant: how the load is shared depends on how stiff each member is. "
    with pytest.raises(StiffnessMissing, match=f"^{said}Give an area and a modulus for a-b, b-c$"):
        solve(bare)


def test_small_loads_are_no_noise() -> None:
    for truss in (warren(), made_redundant(warren(), seed=3)):
        whole, small = solve(truss), solve(replace(truss, loads=dict.fromkeys(truss.loads, (0.0, -1e-14))))
        assert whole.displacements is not None
        assert small.displacements is not None
        assert small.forces == pytest.approx({m: f * 1e-15 for m, f in whole.forces.items()}, rel=1e-6, abs=1e-24)
        assert small.displacements["b3"] == pytest.approx(
            [u * 1e-15 for u in whole.displacements["b3"]], rel=1e-6, abs=0
        )
