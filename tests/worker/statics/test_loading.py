"""Loads that travel, self-weight, and warming."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trusses import AREA_MM2, made_redundant, member, pratt, shuffled, triangulated, warren
from worker.statics import Moves, solve
from worker.statics.loading import self_weight, travelling, warming, with_loads
from worker.truss.model import Support, Truss

DECK = [f"b{i}" for i in range(7)]
PIN3 = Support("pin", ((1, 0, 0), (0, 1, 0), (0, 0, 1)))


def test_an_influence_line_is_the_force_from_a_unit_load_at_each_joint() -> None:
    truss = made_redundant(pratt(), seed=1)
    lines = travelling(truss, DECK, 80.0).influence
    for k, joint in enumerate(DECK):
        forces = solve(replace(truss, loads={joint: (0.0, -1.0)})).forces
        assert {name: line[k] for name, line in lines.items()} == pytest.approx(forces, abs=1e-9)


def test_the_envelope_names_the_joint_at_which_each_extreme_happens() -> None:
    # Shear in panel 2-3 of 6: +1/2 with the load at b3, -1/3 with it at b2; V over the sine.
    found = travelling(pratt(), DECK, 60.0)
    sine = 120 / (100**2 + 120**2) ** 0.5
    assert found.highest["t2-b3"].joint == "b3"
    assert found.highest["t2-b3"].force_N == pytest.approx(30.0 / sine)
    assert found.lowest["t2-b3"].joint == "b2"
    assert found.lowest["t2-b3"].force_N == pytest.approx(-20.0 / sine)


def test_of_two_positions_alike_the_first_from_the_left_is_named() -> None:
    found = travelling(pratt(), DECK[::-1], 60.0)
    assert found.joints == tuple(DECK)
    assert found.lowest["b3-t3"] == found.highest["b3-t3"]
    assert (found.lowest["b3-t3"].joint, found.lowest["b3-t3"].force_N) == ("b0", 0.0)


def test_between_two_joints_an_influence_line_is_straight() -> None:
    found = travelling(warren(), DECK, 1.0)
    line = found.influence["t2-t3"]
    assert found.ordinate("t2-t3", 300.0) == pytest.approx(line[3])
    assert found.ordinate("t2-t3", 325.0) == pytest.approx(0.75 * line[3] + 0.25 * line[4])
    assert (found.ordinate("t2-t3", 0.0), found.ordinate("t2-t3", 600.0)) == (line[0], line[6])


@pytest.mark.parametrize("x", [-1.0, 601.0])
def test_there_is_no_ordinate_beyond_the_deck(x: float) -> None:
    with pytest.raises(ValueError, match=r"no deck at x = .* it runs from 0 to 600 mm"):
        travelling(warren(), DECK, 1.0).ordinate("t2-t3", x)


def test_a_deck_of_one_joint_has_one_ordinate() -> None:
    found = travelling(warren(), ["b3"], 1.0)
    assert found.ordinate("t2-t3", 300.0) == found.influence["t2-t3"][0]


def test_what_else_acts_on_the_truss_does_not_move_the_influence_line() -> None:
    truss = made_redundant(pratt(), seed=1)
    laden = replace(truss, settlements={"b6": (0.0, -3.0)}, misfits={truss.members[0].name: 1.0})
    assert travelling(laden, DECK, 1.0) == travelling(replace(truss, loads={}), DECK, 1.0)


@pytest.mark.parametrize(
    ("joints", "said"),
    [([], "at least one"), (["b1", "x"], "names joint x"), (["b1", "t1"], "same x"), (["b1", "b1"], "same x")],
)
def test_a_deck_that_is_none_is_refused(joints: list[str], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        travelling(pratt(), joints, 1.0)


def test_a_mechanism_has_no_influence_line() -> None:
    with pytest.raises(Moves):
        travelling(replace(warren(), supports={}), DECK, 1.0)


def test_a_load_on_a_space_truss_pulls_against_z() -> None:
    feet = {"a": (300.0, 0.0, 0.0), "b": (-150.0, 260.0, 0.0), "c": (-150.0, -260.0, 0.0)}
    members = tuple(member(foot, "d") for foot in feet)
    truss = Truss(feet | {"d": (0.0, 0.0, 400.0)}, members, dict.fromkeys(feet, PIN3))
    lines = travelling(truss, ["d"], 1.0).influence
    assert sum(line[0] * 400 / truss.length_mm(m) for m, line in zip(members, lines.values(), strict=True)) == (
        pytest.approx(-1.0)
    )


def test_self_weight_is_the_weight_of_all_members_and_half_of_each_at_its_ends() -> None:
    # One member of 500 mm, 36 mm2, 160 kg/m3: 2.88 g, 28.2431 mN.
    truss = Truss({"a": (0, 0), "b": (300, 400)}, (member("a", "b"),))
    assert list(self_weight(truss, 160.0).values()) == [(0.0, pytest.approx(-0.0141215760))] * 2
    girder = warren()
    whole = sum(AREA_MM2 * girder.length_mm(m) for m in girder.members) * 160e-9 * 9.80665
    assert sum(y for _, y in self_weight(girder, 160.0).values()) == pytest.approx(-whole)


def test_the_weight_of_a_member_without_area_is_not_guessed() -> None:
    with pytest.raises(ValueError, match="a-b has no area"):
        self_weight(Truss({"a": (0, 0), "b": (1, 0)}, (member("a", "b", None),)), 160.0)


def test_more_loads_add_to_those_that_are_there() -> None:
    truss = with_loads(warren(), {"b1": (1.0, -2.0), "t0": (0.0, -3.0)})
    assert (truss.loads["b1"], truss.loads["t0"], truss.loads["b2"]) == ((1, -12), (0, -3), (0, -10))


def test_a_member_that_warms_grows_by_its_expansion_times_its_length() -> None:
    # 4e-6 per K, 25 K, 100 mm
    assert warming(warren(), {"b0-b1": 25.0}, 4e-6) == {"b0-b1": pytest.approx(0.01)}
    with pytest.raises(ValueError, match="names member x-y"):
        warming(warren(), {"x-y": 25.0}, 4e-6)


def test_even_warming_of_a_truss_free_to_grow_strains_it_without_a_force() -> None:
    truss = made_redundant(warren(), seed=2)
    grown = replace(truss, loads={}, misfits=warming(truss, {m.name: 20.0 for m in truss.members}, 1e-5))
    solution = solve(grown)
    assert max(map(abs, solution.forces.values())) < 1e-9
    assert solution.displacements is not None
    assert solution.displacements["b6"] == pytest.approx((600 * 2e-4, 0.0))


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 5000), st.integers(0, 3), st.integers(0, 1000))
def test_influence_lines_do_not_depend_on_order_or_names(seed: int, extra: int, order: int) -> None:
    truss = triangulated(seed, joints=8)
    truss = made_redundant(truss, seed, extra) if extra else truss
    changed, new = shuffled(truss, order)
    deck = list(truss.joints)[:5]
    found, wanted = travelling(changed, [new[n] for n in deck], 5.0), travelling(truss, deck, 5.0)
    assert found.influence == wanted.influence
    assert found.joints == tuple(new[n] for n in wanted.joints)


def test_beyond_the_last_joint_but_one_the_line_runs_to_the_last() -> None:
    found = travelling(warren(), DECK, 1.0)
    line = found.influence["b5-t5"]
    assert line[6] - line[5] != pytest.approx(line[5] - line[4])
    assert found.ordinate("b5-t5", 550.0) == pytest.approx((line[5] + line[6]) / 2)


def test_the_load_that_travels_is_told_and_rounding_noise_is_not() -> None:
    found = travelling(pratt(20), [f"b{i}" for i in range(21)], 60.0)
    assert found.force_N == 60.0
    sizes = [abs(x) for line in found.influence.values() for x in line]
    assert not [x for x in sizes if 0.0 < x < 1e-9]


def test_an_idle_member_has_an_extreme_of_zero_and_never_of_minus_zero() -> None:
    found = travelling(pratt(), DECK, -60.0)
    assert [math.copysign(1.0, extreme["b3-t3"].force_N) for extreme in (found.highest, found.lowest)] == [1.0, 1.0]


def test_a_load_may_travel_over_a_pinned_joint_alone() -> None:
    found = travelling(Truss({"a": (0.0, 0.0)}, (), {"a": Support.pin()}), ["a"], 1.0)
    assert (found.joints, found.influence, found.highest) == (("a",), {}, {})


def test_a_plane_load_is_not_added_to_one_in_space() -> None:
    with pytest.raises(ValueError, match="argument"):
        with_loads(Truss({"a": (0, 0, 0)}, (), {}, {"a": (1.0, 2.0, 3.0)}), {"a": (1.0, 2.0)})


def test_a_deck_without_joints_or_with_joints_above_one_another_is_refused_in_full() -> None:
    with pytest.raises(ValueError, match=r"^a load that travels needs at least one joint to stand on$"):
        travelling(pratt(), [], 1.0)
    with pytest.raises(ValueError, match=r"^two joints of the deck have the same x, .* it is not known$"):
        travelling(pratt(), ["b1", "t1"], 1.0)
