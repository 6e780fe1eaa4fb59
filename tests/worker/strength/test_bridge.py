"""First failure, mass and efficiency of the whole bridge."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric import library
from rubric.brief import Brief
from rubric.quantities import STANDARD_GRAVITY
from tests import bridges
from tests.corpus.mistaken import G as GOOD
from worker.analysis import Solved, solve
from worker.demand import STILL, Action, Demand
from worker.strength.bridge import Check, strength, weight_N
from worker.strength.capacity import Capacity, capacity
from worker.strength.wood import wood
from worker.truss.model import Member, Support, Truss
from worker.truss.reader import read_truss

BRIEF = library.brief("footbridge")


def solved(text: str = GOOD, brief: Brief = BRIEF) -> Solved:
    return solve(read_truss(text.encode(), brief), brief)


def test_the_bridge_fails_when_its_fullest_member_does() -> None:
    found = solved().strength
    fullest = max(check.utilisation for check in found.checks)
    assert found.first is not None
    assert found.first.utilisation == pytest.approx(fullest)
    assert found.failure_load_N == pytest.approx(BRIEF.load.target_N / fullest)


def test_a_triangle_bridge_by_hand() -> None:
    """Apex 150 mm over midspan of 600 mm, 100 N on one side: rafters 50 / sin(atan(1/2)) = 111.8 N in compression."""
    found = solved().strength
    force = {check.member.name: check.force_N for check in found.checks}
    assert force["a-d"] == pytest.approx(-50 * 5**0.5)
    assert force["a-b"] == pytest.approx(100)
    assert force["b-d"] == pytest.approx(100)


def test_mass_is_two_sides_and_the_cross_members() -> None:
    long, short = 300 + 300 + 2 * (300**2 + 150**2) ** 0.5, 150
    wood_g = 2 * 180e-6 * (25 * long + 9 * short)
    assert solved().strength.mass_g == pytest.approx(wood_g + 15)


def test_efficiency_is_failure_load_over_weight_both_as_forces() -> None:
    found = solved().strength
    assert found.efficiency == pytest.approx(found.failure_load_N / (found.mass_g / 1000 * STANDARD_GRAVITY))
    assert weight_N(1000) == pytest.approx(9.80665)


def test_a_mechanism_has_a_mass_and_no_failure_load() -> None:
    found = solved(GOOD.replace("  b-d: square3\n", "")).strength
    assert found.failure_load_N is None
    assert found.efficiency is None
    assert found.mass_g > 15


def test_an_uneven_share_loads_the_worse_side_more() -> None:
    uneven = BRIEF.model_copy(update={"share": 0.6})
    assert solved(brief=uneven).strength.failure_load_N == pytest.approx(solved().strength.failure_load_N * 0.5 / 0.6)


@given(target=st.floats(1, 1e4))
def test_the_failure_load_does_not_depend_on_the_target(target: float) -> None:
    load = BRIEF.load.model_copy(update={"target_N": target})
    other = BRIEF.model_copy(update={"load": load})
    assert solved(brief=other).strength.failure_load_N == pytest.approx(solved().strength.failure_load_N)


@given(name=st.sampled_from(["a-b", "b-c", "a-d", "d-c", "b-d"]))
def test_a_stronger_member_never_lowers_the_failure_load_of_a_determinate_truss(name: str) -> None:
    stick = "square3" if name == "b-d" else "square5"
    stronger = solved(GOOD.replace(f"{name}: {stick}", f"{name}: square5 x2")).strength
    before = solved().strength
    assert stronger.failure_load_N is not None
    assert before.failure_load_N is not None
    assert stronger.failure_load_N >= before.failure_load_N * (1 - 1e-12)


@given(
    name=st.sampled_from(["a-b", "b-c", "a-d", "d-c", "b-d"]),
    curve=st.sampled_from(["Euler and Johnson", "EN 1995-1-1", "NDS"]),
    glued=st.sampled_from(["along", "at the ends"]),
    bracing=st.sampled_from([None, 60.0, 400.0]),
)
def test_a_thicker_member_never_lowers_it_whatever_the_brief_chooses(name, curve, glued, bracing) -> None:
    brief = BRIEF.model_copy(update={"column_curve": curve, "glued": glued, "bracing_mm": bracing})
    stick = "square3" if name == "b-d" else "square5"
    before, after = solved(brief=brief), solved(GOOD.replace(f"{name}: {stick}", f"{name}: {stick} x2"), brief)
    assert before.strength.failure_load_N is not None
    assert after.strength.failure_load_N is not None
    assert after.strength.failure_load_N >= before.strength.failure_load_N * (1 - 1e-12)


def test_the_first_of_equally_full_members_is_named() -> None:
    """The two halves of the deck and the two rafters are twins; the file names a-b first."""
    found = solved(brief=BRIEF.model_copy(update={"glue": None})).strength
    assert found.first is not None
    assert found.first.member.name == "a-d"
    twins = [check.utilisation for check in found.checks if check.member.name in ("a-d", "d-c")]
    assert twins[0] == pytest.approx(twins[1])


def test_without_cross_members_the_mass_is_that_of_the_sides() -> None:
    bare = solved(brief=BRIEF.model_copy(update={"cross_members": None})).strength
    assert bare.mass_g == pytest.approx(solved().strength.mass_g - 15)


def test_a_truss_that_carries_nothing_has_no_failure_load() -> None:
    truss = read_truss(GOOD.encode(), BRIEF)
    found = strength(truss, Demand.still({member.name: 0.0 for member in truss.members}), BRIEF, wood(BRIEF.wood))
    assert (found.failure_load_N, found.first, found.efficiency) == (None, None, None)
    assert [(c.mode, c.utilisation, c.capacity_N) for c in found.checks] == [("none", 0.0, None)] * 5


def test_utilisation_is_force_over_capacity_whatever_its_sign() -> None:
    for row in solved().strength.checks:
        assert row.capacity_N is not None
        assert row.utilisation == pytest.approx(abs(row.force_N) / row.capacity_N)
        assert row.utilisation > 0


def test_a_bridge_of_less_than_a_gram_has_an_efficiency_too() -> None:
    airy = BRIEF.wood.model_copy(update={"density_kg_m3": 0.1})
    found = solved(brief=BRIEF.model_copy(update={"wood": airy, "cross_members": None})).strength
    assert found.mass_g < 1
    assert found.efficiency is not None


def test_a_bridge_without_mass_has_no_efficiency() -> None:
    brief = BRIEF.model_copy(update={"cross_members": None})
    truss = read_truss(GOOD.encode(), BRIEF)
    forces = solve(truss, BRIEF).solution.forces
    weightless = replace(wood(BRIEF.wood), density_kg_m3=0.0)
    assert strength(truss, Demand.still(forces), brief, weightless).efficiency is None


@pytest.mark.parametrize(("longer", "named"), [(1e-10, "first"), (1e-8, "second"), (1e-7, "second")])
def test_struts_count_as_equally_full_to_a_billionth(longer: float, named: str) -> None:
    """Two like struts end to end under one load; the second is a little longer, and takes 2 x that less."""
    brief = bridges.brief()
    middle = 100.0 * (1 + longer)
    joints = {"low": (0.0, 0.0), "mid": (0.0, middle), "top": (0.0, middle + 100.0)}
    members = (Member("first", "top", "mid", "bar"), Member("second", "mid", "low", "bar"))
    supports = {"low": Support.pin(), "mid": Support.roller(90.0), "top": Support.roller(90.0)}
    found = solve(bridges.filled(Truss(joints, members, supports, {"top": (0.0, -1.0)}), brief), brief).strength
    assert found.first is not None
    assert (found.first.member.name, found.first.mode) == (named, "buckling")


FORCES = {"a-b": 100.0, "b-c": 100.0, "a-d": -110.0, "d-c": -110.0, "b-d": 100.0}
LITTLE = dict.fromkeys(FORCES, 0.0)


def checked(target: Action, permanent: Action | None = None, brief: Brief = BRIEF) -> dict[str, Check]:
    """The checks of the king-post truss under made-up forces, by member."""
    truss = solved(brief=brief).truss
    found = strength(truss, Demand({STILL: target}, permanent), brief, wood(brief.wood))
    return {check.member.name: check for check in found.checks}


def able(name: str, brief: Brief = BRIEF) -> Capacity:
    truss = solved(brief=brief).truss
    return capacity(truss, next(m for m in truss.members if m.name == name), brief, wood(brief.wood))


GLUELESS = BRIEF.model_copy(update={"glue": None})


@pytest.mark.parametrize(("name", "bent_MPa"), [("a-b", 2.0), ("a-d", 2.0), ("a-d", 10.0)])
def test_bending_adds_to_what_pulls_or_pushes_the_stick(name: str, bent_MPa: float) -> None:
    found = checked(Action(FORCES, {name: bent_MPa}), brief=GLUELESS)[name]
    can, fm = able(name, GLUELESS), wood(BRIEF.wood).bending_MPa
    axial = abs(FORCES[name]) / (can.tension_N if FORCES[name] > 0 else can.buckling_N)
    assert found.utilisation == pytest.approx(axial + bent_MPa / fm)
    assert found.load_factor == pytest.approx(1 / found.utilisation)
    assert found.bending_MPa == bent_MPa
    assert (found.mode == "bending") == (bent_MPa / fm > axial)


def test_only_a_member_that_buckles_has_a_way_to_buckle() -> None:
    found = checked(Action(FORCES, {}), brief=GLUELESS)
    assert (found["a-d"].mode, found["a-d"].axis) == ("buckling", able("a-d", GLUELESS).axis)
    assert (found["a-b"].mode, found["a-b"].axis) == ("tension", None)


def test_the_load_factor_counts_what_is_there_before_in_the_sense_of_the_load() -> None:
    """x = (1 - g / C - b / fm) / (p / C + c / fm), by hand for a strut that its own weight pulls and bends a little."""
    own = Action({**LITTLE, "a-d": 5.0}, {"a-d": 1.0})
    found = checked(Action(FORCES, {"a-d": 2.0}), own, GLUELESS)["a-d"]
    C, fm = able("a-d", GLUELESS).buckling_N, wood(BRIEF.wood).bending_MPa
    assert found.load_factor == pytest.approx((1 + 5 / C - 1 / fm) / (110 / C + 2 / fm))
    assert found.force_N == -105.0


def test_a_glued_end_is_loaded_by_force_alone() -> None:
    own = Action({**LITTLE, "b-d": 3.0}, {})
    found, joint_N = checked(Action(FORCES, {"b-d": 0.5}), own)["b-d"], able("b-d").joint_N
    assert joint_N is not None
    assert found.mode == "joint"
    assert found.utilisation == pytest.approx(103 / joint_N)
    assert found.load_factor == pytest.approx((1 - 3 / joint_N) / (100 / joint_N))


@pytest.mark.parametrize(("part", "factor"), [(0.99, math.inf), (1.01, 0.0)])
def test_a_member_that_the_load_leaves_alone_fails_at_once_or_never(part: float, factor: float) -> None:
    can_N, mode = able("b-d").governs(1.0)
    assert (can_N, mode) == (able("b-d").joint_N, "joint")
    own = Action({**LITTLE, "b-d": part * (can_N or 0.0)}, {})
    assert checked(Action({**FORCES, "b-d": 0.0}, {}), own)["b-d"].load_factor == factor


def test_of_two_places_the_one_that_breaks_it_first_counts() -> None:
    truss = solved().truss
    light, heavy = Action(FORCES, {}), Action({name: 2 * force for name, force in FORCES.items()}, {})
    found = strength(truss, Demand({"p": light, "q": heavy, "r": light}), BRIEF, wood(BRIEF.wood))
    assert {check.place for check in found.checks} == {"q"}
