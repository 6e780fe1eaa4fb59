"""Missing bars and critical forms told apart; rigid motions shown as what they are."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trusses import mapped, member, pratt, shuffled, turned, warren
from worker.statics import Solution, solve
from worker.statics.equilibrium import equilibrium_matrix, rigidity
from worker.statics.form import Form, form
from worker.statics.structure import Structure
from worker.truss.model import Support, Truss, Vector

PIN, ROLLER = Support.pin(), Support.roller()


def counted(solution: Solution) -> tuple[str, int, int]:
    return solution.form, solution.missing_bars, solution.critical


def polygon(sides: int, radius: float = 100.0) -> dict[str, Vector]:
    angles = [2 * math.pi * k / sides for k in range(sides)]
    return {str(k): (radius * math.cos(a), radius * math.sin(a)) for k, a in enumerate(angles)}


def hexagon() -> Truss:
    """Regular, with its three long diagonals: 9 members, 3 held directions, 6 joints."""
    pairs = [(str(k), str((k + 1) % 6)) for k in range(6)] + [("0", "3"), ("1", "4"), ("2", "5")]
    return Truss(polygon(6), tuple(member(*p) for p in pairs), {"3": PIN, "0": ROLLER})


def without(truss: Truss, *names: str) -> Truss:
    return replace(truss, members=tuple(m for m in truss.members if m.name not in names))


def size(motion: Mapping[str, Vector]) -> float:
    return max(math.hypot(*v) for v in motion.values())


def test_a_stable_truss_has_no_form_to_complain_of() -> None:
    assert counted(solve(warren())) == ("", 0, 0)


def test_a_panel_without_its_diagonal_misses_a_bar() -> None:
    assert counted(solve(without(pratt(), "t2-b3"))) == ("missing bars", 1, 0)


def test_a_regular_hexagon_with_long_diagonals_is_a_critical_form_and_misses_no_bar() -> None:
    solution = solve(hexagon())
    assert counted(solution) == ("critical form", 0, 1)
    assert "critical form: 9 members and 3 held directions would hold these 6 joints" in solution.warnings[0]


def test_a_hexagon_without_a_diagonal_misses_a_bar_and_is_no_critical_form() -> None:
    assert counted(solve(without(hexagon(), "2-5"))) == ("missing bars", 1, 0)


def test_a_joint_on_the_line_between_two_pins_is_a_critical_form() -> None:
    joints = {"a": (0, 0), "b": (50, 0), "c": (100, 0)}
    truss = Truss(joints, (member("a", "b"), member("b", "c")), {"a": PIN, "c": PIN})
    assert counted(solve(truss)) == ("critical form", 0, 1)


@pytest.mark.parametrize("slopes", [(0.0, 0.0, 0.0), (-45.0, 45.0, 0.0)])
def test_three_rollers_all_parallel_or_through_one_point_are_a_critical_form(slopes: tuple[float, ...]) -> None:
    # The normals at (-100, 0), (100, 0) and (0, -50) meet at (0, 100) for the second set of slopes.
    joints = {"a": (-100, 0), "b": (100, 0), "c": (0, -50)}
    pairs = (member("a", "b"), member("b", "c"), member("a", "c"))
    supports = {name: Support.roller(slope) for name, slope in zip("abc", slopes, strict=True)}
    assert counted(solve(Truss(joints, pairs, supports))) == ("critical form", 0, 1)


def test_two_rollers_alone_miss_a_support_which_counts_as_a_bar() -> None:
    assert counted(solve(replace(warren(), supports={"b0": ROLLER, "b6": ROLLER}))) == ("missing bars", 1, 0)


def test_a_bar_in_the_wrong_panel_is_missing_where_it_should_be() -> None:
    moved = without(pratt(), "t2-b3")
    solution = solve(replace(moved, members=(*moved.members, member("b4", "t3"))))
    assert counted(solution) == ("missing bars", 1, 0)
    assert solution.degree == 1
    assert "in the wrong places" in solution.warnings[0]


def test_a_truss_may_miss_a_bar_in_one_place_and_be_critical_in_another() -> None:
    hexa, girder = hexagon(), without(pratt(), "t2-b3")
    aside = {name: (x + 1000.0, y) for name, (x, y) in girder.joints.items()}
    both = Truss(hexa.joints | aside, hexa.members + girder.members, {**hexa.supports, **girder.supports})
    solution = solve(both)
    assert counted(solution) == ("missing bars", 1, 1)
    assert sorted(len([v for v in motion.values() if any(v)]) for motion in solution.motions)[0] < 12


@pytest.mark.parametrize("degrees", [0.0, 33.0])
def test_a_free_body_moves_along_x_along_y_and_turns_about_its_middle(degrees: float) -> None:
    free = mapped(replace(warren(), supports={}), turned(degrees))
    along, up, turn = solve(free).motions
    assert set(along.values()) == {(1.0, 0.0)}
    assert set(up.values()) == {(0.0, 1.0)}
    assert [sum(v[k] for v in turn.values()) for k in range(2)] == pytest.approx([0, 0], abs=1e-9)
    (ax, ay), (bx, by) = free.joints["b0"], free.joints["b6"]
    parted = [q - p for p, q in zip(turn["b0"], turn["b6"], strict=True)]
    spin = parted[1] / (bx - ax)
    assert spin > 0
    assert parted == pytest.approx([-spin * (by - ay), spin * (bx - ax)])


def test_a_truss_on_one_roller_rolls_and_turns_about_it() -> None:
    roll, turn = solve(replace(warren(), supports={"b0": ROLLER})).motions
    assert set(roll.values()) == {(1.0, 0.0)}
    assert turn["b0"] == (0.0, 0.0)
    assert turn["b3"] == pytest.approx((0.0, turn["b6"][1] / 2))


def test_a_free_body_with_a_loose_panel_shows_the_sway_beside_its_rigid_motions() -> None:
    square = {"a": (0, 0), "b": (100, 0), "c": (100, 100), "d": (0, 100)}
    loose = Truss(square, tuple(member(*p) for p in ("ab", "bc", "cd", "da")))
    *_, turn, sway = solve(loose).motions
    assert turn["a"] == pytest.approx((math.sqrt(0.5), -math.sqrt(0.5)))
    assert sum(u * v for name in square for u, v in zip(turn[name], sway[name], strict=True)) == pytest.approx(0)


def test_two_free_bodies_have_three_motions_each_and_share_none() -> None:
    left = replace(warren(2), supports={})
    right = {name.upper(): (x + 900.0, y) for name, (x, y) in left.joints.items()}
    pairs = tuple(member(m.start.upper(), m.end.upper()) for m in left.members)
    motions = solve(Truss(left.joints | right, left.members + pairs)).motions
    sides = [{name.isupper() for name, v in motion.items() if any(v)} for motion in motions]
    assert sides == [{False}] * 3 + [{True}] * 3
    assert all(size(motion) == pytest.approx(1.0) for motion in motions)


def test_a_free_tetrahedron_has_six_rigid_motions() -> None:
    joints = {"a": (0, 0, 0), "b": (3, 0, 0), "c": (0, 4, 0), "d": (1, 1, 5)}
    pairs = [(p, q) for i, p in enumerate("abcd") for q in "abcd"[i + 1 :]]
    solution = solve(Truss(joints, tuple(member(*p) for p in pairs)))
    assert counted(solution) == ("missing bars", 6, 0)
    assert [set(motion.values()) for motion in solution.motions[:3]] == [{(1, 0, 0)}, {(0, 1, 0)}, {(0, 0, 1)}]
    for axis, motion in enumerate(solution.motions[3:]):
        assert {v[axis] for v in motion.values()} == {0.0}


@pytest.mark.parametrize("seed", range(8))
def test_neither_order_nor_names_change_the_verdict(seed: int) -> None:
    for truss in (hexagon(), without(pratt(), "t2-b3", "b1-t1"), replace(warren(), supports={})):
        changed, new = shuffled(truss, seed)
        found, wanted = solve(changed), solve(truss)
        assert counted(found) == counted(wanted)
        assert [{new[n]: v for n, v in motion.items()} for motion in wanted.motions] == list(found.motions)


def independent_bars(joints: int, bars: list[tuple[int, int]]) -> int:
    """Independent bars of a plane graph at general places, by the pebble game, which knows no coordinates.

    D. J. Jacobs and B. Hendrickson, J. Comput. Phys. 137 (1997) (from memory): each joint has two pebbles, and may
    lay one on a bar that ends there; a bar is independent if all four of its ends' pebbles can be freed.
    """
    laid: list[list[int]] = [[] for _ in range(joints)]

    def freed(joint: int, seen: set[int]) -> bool:
        for other in laid[joint]:
            if other in seen:
                continue
            seen.add(other)
            if len(laid[other]) < 2 or freed(other, seen):
                laid[other].append(joint)
                laid[joint].remove(other)
                return True
        return False

    found = 0
    for a, b in bars:
        while laid[a] and freed(a, {a, b}):
            pass
        while laid[b] and freed(b, {a, b}):
            pass
        if not laid[a] and not laid[b]:
            laid[a].append(b)
            found += 1
    return found


@st.composite
def graphs(draw: st.DrawFn) -> Truss:
    """Joints on a small grid, where critical forms are common, and any members; a pin and a roller."""
    n = draw(st.integers(3, 8))
    places = draw(st.lists(st.tuples(st.integers(0, 3), st.integers(0, 3)), min_size=n, max_size=n, unique=True))
    pairs = [(i, k) for i in range(n) for k in range(i)]
    bars = draw(st.lists(st.sampled_from(pairs), max_size=2 * n, unique=True))
    joints = {str(i): (float(x), float(y)) for i, (x, y) in enumerate(places)}
    return Truss(joints, tuple(member(str(i), str(k)) for i, k in bars), {"0": PIN, "1": ROLLER})


@settings(max_examples=300, deadline=None)
@given(graphs())
def test_the_bars_missing_are_those_that_the_pebble_game_counts(truss: Truss) -> None:
    """The ground is one bar more between two joints more; a pin is two bars to it, a roller one."""
    n = len(truss.joints)
    bars = [(int(m.start), int(m.end)) for m in truss.members]
    ground = [(n, n + 1), (0, n), (0, n + 1), (1, n)]
    solution = solve(truss)
    assert solution.missing_bars == 2 * (n + 2) - 3 - independent_bars(n + 2, bars + ground)
    assert solution.mechanisms == solution.missing_bars + solution.critical
    assert (solution.state == "stable") == (solution.form == "")


def test_a_stable_truss_asked_for_its_form_misses_nothing() -> None:
    structure = Structure.of(warren())
    assert form(structure, rigidity(equilibrium_matrix(structure))) == Form(0, 0)


@pytest.mark.parametrize("scale", [1e-9, 1e9])
def test_the_size_of_a_truss_does_not_change_why_it_moves(scale: float) -> None:
    joints = {name: (scale * x, scale * y) for name, (x, y) in hexagon().joints.items()}
    assert counted(solve(replace(hexagon(), joints=joints))) == ("critical form", 0, 1)


def test_of_two_free_bodies_each_slides_both_ways_and_turns_about_its_own_middle() -> None:
    left = replace(warren(2), supports={})
    right = {name.upper(): (x + 900.0, y) for name, (x, y) in left.joints.items()}
    pairs = tuple(member(m.start.upper(), m.end.upper()) for m in left.members)
    motions = solve(Truss(left.joints | right, left.members + pairs)).motions
    for names, (along, up, turn) in ((left.joints, motions[:3]), (right, motions[3:])):
        assert {along[name] for name in names} == {(1.0, 0.0)}
        assert {up[name] for name in names} == {(0.0, 1.0)}
        assert [sum(turn[name][k] for name in names) for k in range(2)] == pytest.approx([0, 0], abs=1e-9)


def test_two_free_chains_of_bars_slide_and_turn_before_they_bend() -> None:
    joints = {f"{row}{i}": (100.0 * i, y) for row, y in (("a", 0.0), ("b", 500.0)) for i in range(5)}
    bars = tuple(member(f"{row}{i}", f"{row}{i + 1}") for row in "ab" for i in range(4))
    motions = [{n: v for n, v in motion.items() if any(v)} for motion in solve(Truss(joints, bars)).motions]
    for row in "ab":
        along, up, turn, *bending = [m for m in motions if {n[0] for n in m} == {row}]
        assert (set(along.values()), set(up.values())) == ({(1.0, 0.0)}, {(0.0, 1.0)})
        assert turn[f"{row}4"] == pytest.approx((0.0, 1.0))
        assert len(bending) == 3


def test_a_body_of_less_than_a_millimetre_turns_as_far_as_any_other() -> None:
    small = {name: (1e-5 * x, 1e-5 * y) for name, (x, y) in warren().joints.items()}
    tiny = replace(warren(), joints=small, supports={})
    assert [size(motion) for motion in solve(tiny).motions] == pytest.approx([1.0] * 3)
