"""Influence lines, misfits and temperature, settlements, inclined rollers, space trusses, critical forms, self-stress.

Each case names the book or paper that it is taken from; "from memory" says that the source was
not at hand, and then the closed form is derived in the docstring, so that the value stands on its own.
All members have EA = 122 400 N unless said otherwise.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.trusses import AREA_MM2, MODULUS_MPA, member, pratt
from worker.statics import Solution, self_stresses, solve
from worker.statics.loading import self_weight, travelling, warming, with_loads
from worker.truss.model import Support, Truss, Vector

EA = AREA_MM2 * MODULUS_MPA
PIN, ROLLER = Support.pin(), Support.roller()
DECK = [f"b{i}" for i in range(7)]
SIXTHS = [k / 6 for k in range(7)]
SLOPE = math.hypot(100, 120)  # a diagonal of the Pratt girder: 6 panels of 100 mm, 120 mm deep


def line(name: str) -> tuple[float, ...]:
    return travelling(pratt(), DECK, 1.0).influence[name]


def counts(truss: Truss) -> tuple[int, int, int]:
    """(mechanisms of the form, mechanisms for want of bars, states of self-stress)."""
    solution = solve(truss)
    return solution.critical, solution.missing_bars, solution.degree


def moved(solution: Solution) -> dict[str, Vector]:
    assert solution.displacements is not None
    return dict(solution.displacements)


# --- influence lines: R. C. Hibbeler, Structural Analysis, chapter on influence lines for trusses (from memory)


def test_the_influence_line_of_a_top_chord_is_that_of_the_moment_over_the_depth() -> None:
    """Moments about b3, 300 mm from the pin of a span of 600 mm: a triangle of height 300 x 300 / 600 mm, over 120 mm."""
    moment = [50.0 * k for k in range(4)] + [50.0 * k for k in (2, 1, 0)]
    assert line("t2-t3") == pytest.approx([-m / 120 for m in moment])


def test_the_influence_line_of_a_bottom_chord_has_its_height_at_the_joint_above() -> None:
    """b1-b2 by moments about t1, over b1: height 100 x 500 / 600 mm, over 120 mm; tension."""
    assert line("b1-b2") == pytest.approx([0.0, *(100 * (6 - k) / 6 / 120 for k in range(1, 7))])


def test_the_influence_line_of_a_diagonal_is_that_of_the_shear_in_its_panel_over_the_sine() -> None:
    """Panel 2-3: the right reaction, k / 6, for a load to its left; the left one, 1 - k / 6, to its right.

    The diagonal t2-b3 falls towards midspan and so pulls for a load on its right.
    """
    shear = [-k if k < 1 / 2 else 1 - k for k in SIXTHS]
    assert line("t2-b3") == pytest.approx([v * SLOPE / 120 for v in shear])


def test_the_influence_line_of_a_post_is_that_of_the_shear_with_the_other_sign() -> None:
    """t2-b2 carries down what the diagonal t2-b3 brings up to t2, where no load stands."""
    assert line("b2-t2") == pytest.approx([-v * 120 / SLOPE for v in line("t2-b3")])


def test_the_influence_line_of_a_hanger_is_a_triangle_over_its_two_panels() -> None:
    """b1-t1 holds what hangs on b1, and nothing else: joint b1 has no other member that is not level."""
    assert line("b1-t1") == pytest.approx([0, 1, 0, 0, 0, 0, 0])


def test_a_diagonal_is_without_force_when_the_load_stands_on_the_neutral_point_of_its_panel() -> None:
    """Ordinates -2/6 and 3/6 at the ends of panel 2-3: the straight line between them is zero at 2/5 of it.

    C. H. Norris and J. B. Wilbur, Elementary Structural Analysis (from memory).
    """
    found = travelling(pratt(), DECK, 1.0)
    assert found.ordinate("t2-b3", 240.0) == pytest.approx(0.0, abs=1e-12)
    assert found.ordinate("t2-b3", 239.0) < 0 < found.ordinate("t2-b3", 241.0)


@pytest.mark.parametrize("supports", [{}, {"b3": ROLLER}], ids=["one span", "two spans"])
@pytest.mark.parametrize("name", ["t2-t3", "t2-b3", "b1-b2"])
def test_the_deck_takes_the_shape_of_the_influence_line_when_the_member_grows_by_one(supports, name: str) -> None:
    """H. Mueller-Breslau (1886): a member that is 1 mm too long lets each deck joint down by its influence ordinate.

    By virtual work: the forces N of a unit load at a joint, times the misfits, are the movement there.
    """
    truss = replace(pratt(), supports=pratt().supports | supports, loads={})
    sunk = moved(solve(replace(truss, misfits={name: 1.0})))
    ordinates = travelling(truss, DECK, 1.0).influence[name]
    assert [-sunk[joint][1] for joint in DECK] == pytest.approx(ordinates, abs=1e-9)


def test_a_load_of_200_newtons_that_crosses_the_girder_turns_the_stress_of_a_diagonal_round() -> None:
    """From the ordinates above: t2-b3 between -200 x 2/6 and 200 x 3/6, over the sine; t2-t3 from 0 to -250 N."""
    found = travelling(pratt(), DECK, 200.0)
    least, most = found.lowest["t2-b3"], found.highest["t2-b3"]
    assert (least.joint, most.joint) == ("b2", "b3")
    assert (least.force_N, most.force_N) == pytest.approx((-200 / 3 * SLOPE / 120, 100 * SLOPE / 120))
    assert (found.lowest["t2-t3"].joint, found.lowest["t2-t3"].force_N) == ("b3", pytest.approx(-250.0))


# --- temperature and lack of fit: S. Timoshenko, Strength of Materials, part I (from memory)


def test_a_bar_between_two_walls_is_compressed_by_its_expansion() -> None:
    """It may not grow: N L / (E A) + alpha dT L = 0, so N = -E A alpha dT."""
    truss = Truss({"a": (0, 0), "b": (700, 0)}, (member("a", "b"),), {"a": PIN, "b": PIN})
    warm = replace(truss, misfits=warming(truss, {"a-b": 30.0}, 4e-6))
    assert solve(warm).forces["a-b"] == pytest.approx(-EA * 4e-6 * 30)


def hangers(angle_deg: float = 30.0, length: float = 400.0) -> Truss:
    """An upright from m to p and two members at the angle beside it, hung from l and r."""
    aside = length * math.tan(math.radians(angle_deg))
    joints = {"l": (-aside, length), "m": (0.0, length), "r": (aside, length), "p": (0.0, 0.0)}
    return Truss(joints, tuple(member(top, "p") for top in "lmr"), dict.fromkeys("lmr", PIN))


@pytest.mark.parametrize("angle", [20.0, 30.0, 55.0])
def test_three_hangers_with_the_upright_too_long_are_stressed_by_the_closed_form(angle: float) -> None:
    """Upright S, others T = -S / (2 cos); S L / EA + g = u and T L / (EA cos) = u cos: S (1 + 1 / (2 cos^3)) = -EA g / L."""
    cosine = math.cos(math.radians(angle))
    forces = solve(replace(hangers(angle), misfits={"m-p": 0.8})).forces
    upright = -EA * 0.8 / 400 / (1 + 1 / (2 * cosine**3))
    assert forces["m-p"] == pytest.approx(upright)
    assert forces["l-p"] == forces["r-p"] == pytest.approx(-upright / (2 * cosine))


def test_three_hangers_that_all_warm_alike_pull_at_the_upright() -> None:
    """The longer ones would let p down further: S (1 + 1 / (2 cos^3)) = EA alpha dT (1 / cos^2 - 1)."""
    truss = hangers(30.0)
    warm = replace(truss, misfits=warming(truss, {m.name: 40.0 for m in truss.members}, 5e-6))
    cosine = math.cos(math.pi / 6)
    upright = EA * 5e-6 * 40 * (1 / cosine**2 - 1) / (1 + 1 / (2 * cosine**3))
    assert solve(warm).forces["m-p"] == pytest.approx(upright)


def square(side: float = 200.0) -> Truss:
    joints = {"a": (0, 0), "b": (side, 0), "c": (side, side), "d": (0, side)}
    members = tuple(member(*pair) for pair in ("ab", "bc", "cd", "da", "ac", "bd"))
    return Truss(joints, members, {"a": PIN, "b": ROLLER})


def test_a_square_with_a_diagonal_too_long_is_stressed_by_the_closed_form() -> None:
    """Self-stress 1 in the diagonals, -1 / sqrt 2 in the sides: X (2 a + 2 sqrt 2 a) / EA = -g.

    S. P. Timoshenko and D. H. Young, Theory of Structures (from memory).
    """
    forces = solve(replace(square(), misfits={"a-c": 0.5})).forces
    diagonal = -EA * 0.5 / (200 * (2 + 2 * math.sqrt(2)))
    assert forces["a-c"] == pytest.approx(diagonal)
    assert forces["b-d"] == pytest.approx(diagonal)
    assert forces["c-d"] == pytest.approx(-diagonal / math.sqrt(2))


def test_a_square_with_one_side_warmed_pulls_its_diagonals() -> None:
    """The same state of self-stress: X (2 a + 2 sqrt 2 a) / EA = alpha dT a / sqrt 2."""
    warm = replace(square(), misfits=warming(square(), {"c-d": 25.0}, 8e-6))
    diagonal = EA * 8e-6 * 25 / math.sqrt(2) / (2 + 2 * math.sqrt(2))
    assert solve(warm).forces["b-d"] == pytest.approx(diagonal)
    assert solve(warm).forces["c-d"] == pytest.approx(-diagonal / math.sqrt(2))


def test_a_girder_is_cambered_without_force_by_top_chords_too_long() -> None:
    """Unit-load method: rise at midspan = sum of n g, n from a unit load there: t1-t2 1/2 x 200 / 120, t2-t3 1/2 x 300 / 120."""
    chords = ("t1-t2", "t2-t3", "t3-t4", "t4-t5")
    solution = solve(replace(pratt(), loads={}, misfits=dict.fromkeys(chords, 0.6)))
    assert set(solution.forces.values()) == {0.0}
    assert moved(solution)["b3"][1] == pytest.approx(0.6 * 2 * (100 / 120 + 150 / 120))


# --- settlements and inclined rollers


def test_a_middle_support_that_settles_pulls_a_king_post_truss_down_by_the_force_method() -> None:
    """Unit force up at b: post -1, rafters 1 / (2 sin), ties -cot / 2; R sum(n^2 L) / EA = -s.

    R. C. Hibbeler, Structural Analysis, chapter on the force method (from memory).
    """
    joints = {"a": (0, 0), "b": (300, 0), "c": (600, 0), "d": (300, 400)}
    members = tuple(member(*pair) for pair in ("ab", "bc", "ad", "cd", "bd"))
    truss = Truss(joints, members, {"a": PIN, "b": ROLLER, "c": ROLLER}, settlements={"b": (0.0, -1.5)})
    sine, cotangent = 0.8, 0.75
    flexibility = (400 + 2 * 500 / (2 * sine) ** 2 + 2 * 300 * (cotangent / 2) ** 2) / EA
    solution = solve(truss)
    assert solution.reactions["b"][1] == pytest.approx(-1.5 / flexibility)
    assert solution.forces["b-d"] == pytest.approx(1.5 / flexibility)
    assert solution.reactions["a"][1] == pytest.approx(0.75 / flexibility)


@pytest.mark.parametrize("slope", [-30.0, 20.0, 45.0])
def test_an_inclined_roller_adds_its_thrust_to_the_chord(slope: float) -> None:
    """Upright part 25 N by moments; the roller pushes with 25 tan(slope) along x, which the bottom chord carries to the pin."""
    level = solve(pratt())
    solution = solve(replace(pratt(), supports={"b0": PIN, "b6": Support.roller(slope)}))
    thrust = 25.0 * math.tan(math.radians(slope))
    assert solution.reactions["b6"] == pytest.approx((-thrust, 25.0))
    assert solution.reactions["b0"] == pytest.approx((thrust, 25.0))
    assert solution.forces["b2-b3"] == pytest.approx(level.forces["b2-b3"] - thrust)


def test_an_inclined_roller_that_sinks_turns_the_truss_about_its_pin() -> None:
    """A turn w about b0 moves b6 by 600 w along y; its part along the normal, 600 w cos 30, is the settlement."""
    normal = (-0.5, math.cos(math.pi / 6))
    sunk = replace(pratt(), supports={"b0": PIN, "b6": Support.roller(30.0)}, loads={})
    solution = solve(replace(sunk, settlements={"b6": (2 * 0.5, -2 * normal[1])}))
    turn = -2 / (600 * normal[1])
    assert set(solution.forces.values()) == {0.0}
    assert moved(solution)["b6"] == pytest.approx((0.0, 600 * turn))
    assert moved(solution)["t3"] == pytest.approx((-120 * turn, 300 * turn))


# --- space trusses: S. P. Timoshenko and D. H. Young, Theory of Structures, chapter on space trusses (from memory)


def ring(radius: float, z: float = 0.0, turn_deg: float = 0.0, names: str = "abc") -> dict[str, Vector]:
    angles = [math.radians(turn_deg + 360 * k / len(names)) for k in range(len(names))]
    return {n: (radius * math.cos(a), radius * math.sin(a), z) for n, a in zip(names, angles, strict=True)}


def spatial(axes: str) -> Support:
    return Support.in_space(axes, f"holds {' '.join(axes)}")


def test_a_tripod_pushed_over_by_a_level_force() -> None:
    """At the top, towards foot a: N_a + N_b + N_c = 0 and N_b = N_c, so N_a = -2 H L / (3 r), N_b = H L / (3 r)."""
    joints = ring(300.0) | {"top": (0.0, 0.0, 400.0)}
    legs = tuple(member(foot, "top") for foot in "abc")
    solution = solve(Truss(joints, legs, dict.fromkeys("abc", spatial("xyz")), {"top": (90.0, 0.0, 0.0)}))
    assert solution.forces == pytest.approx({"a-top": -100.0, "b-top": 50.0, "c-top": 50.0})
    assert solution.reactions["a"] == pytest.approx((-60.0, 0.0, 80.0))


def test_a_regular_tetrahedron_spreads_a_load_at_its_top() -> None:
    """Legs -P / (3 sqrt(2/3)) = -P / sqrt 6; two base bars at 30 degrees each side hold a foot: P / (3 sqrt 6)."""
    joints = ring(100 / math.sqrt(3)) | {"top": (0.0, 0.0, 100 * math.sqrt(2 / 3))}
    members = tuple(member(*pair) for pair in (("a", "b"), ("b", "c"), ("c", "a"), *((f, "top") for f in "abc")))
    supports = {"a": spatial("xyz"), "b": spatial("xz"), "c": spatial("z")}
    solution = solve(Truss(joints, members, supports, {"top": (0.0, 0.0, -60.0)}))
    assert solution.degree == 0
    assert solution.forces["c-top"] == pytest.approx(-60 / math.sqrt(6))
    assert solution.forces["b-c"] == pytest.approx(60 / (3 * math.sqrt(6)))
    assert all(r == pytest.approx((0, 0, 20)) for r in solution.reactions.values())


def test_the_top_of_a_tripod_sinks_by_the_shortening_of_its_legs_over_their_slope() -> None:
    """Each leg -P / (3 sin), shortened by N L / EA; the top sinks by that over the sine."""
    joints = ring(300.0) | {"top": (0.0, 0.0, 400.0)}
    legs = tuple(member(foot, "top") for foot in "abc")
    solution = solve(Truss(joints, legs, dict.fromkeys("abc", spatial("xyz")), {"top": (0.0, 0.0, -120.0)}))
    assert moved(solution)["top"] == pytest.approx((0.0, 0.0, -(120 / (3 * 0.8)) * 500 / EA / 0.8))


SOLIDS = {
    "tetrahedron": ([(1, 1, 1), (1, -1, -1), (-1, 1, -1), (-1, -1, 1)], 6, 0),
    "octahedron": ([(1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)], 12, 0),
    "cube": ([(x, y, z) for x in (0, 1) for y in (0, 1) for z in (0, 1)], 12, 6),
    "icosahedron": (
        [
            v
            for a in (1, -1)
            for b in (1.618033988749895, -1.618033988749895)
            for v in ((0, a, b), (a, b, 0), (b, 0, a))
        ],
        30,
        0,
    ),
}


@pytest.mark.parametrize("solid", SOLIDS)
def test_a_convex_solid_of_triangles_is_rigid_and_just_so(solid: str) -> None:
    """A. L. Cauchy (1813) and J. C. Maxwell (1864): 3 n - 6 edges hold it; a cube of bars has 6 too few.

    The first six mechanisms of each are its motions as a free body.
    """
    corners, edges, loose = SOLIDS[solid]
    joints = {f"j{i}": (float(x), float(y), float(z)) for i, (x, y, z) in enumerate(corners)}
    names = list(joints)
    pairs = [(p, q) for i, p in enumerate(names) for q in names[i + 1 :]]
    shortest = min(math.dist(joints[p], joints[q]) for p, q in pairs)
    bars = tuple(member(p, q) for p, q in pairs if math.dist(joints[p], joints[q]) < 1.01 * shortest)
    assert len(bars) == edges
    assert counts(Truss(joints, bars)) == (0, 6 + loose, 0)


# --- critical forms


def bipartite(places: list[Vector]) -> Truss:
    """Each of three joints joined to each of three others: 9 members, 6 joints, on a pin and a roller."""
    joints = {str(k): place for k, place in enumerate(places)}
    pairs = [(p, q) for p in "024" for q in "135"]
    return Truss(joints, tuple(member(*pair) for pair in pairs), {"0": PIN, "3": ROLLER})


@pytest.mark.parametrize("flat", [1.0, 0.6])
def test_a_hexagon_with_long_diagonals_moves_when_its_corners_lie_on_a_conic(flat: float) -> None:
    """E. Bolker and B. Roth, "When is a bipartite graph a rigid framework?", Pacific J. Math. 90 (1980) (from memory).

    Three joints each joined to three others are critical just when all six lie on a conic:
    any six places on a circle or an ellipse, not only the regular hexagon.
    """
    angles = [math.radians(a) for a in (0, 50, 125, 170, 230, 310)]
    places = [(100 * math.cos(a), 100 * flat * math.sin(a)) for a in angles]
    assert counts(bipartite(places)) == (1, 0, 1)
    assert counts(bipartite([*places[:5], (70.0, -90.0)])) == (0, 0, 0)


@pytest.mark.parametrize(("corner", "critical"), [((40.0, 20.0), 1), ((40.0, 23.0), 0)])
def test_two_triangles_on_three_links_move_when_the_links_meet_in_one_point(corner: Vector, critical: int) -> None:
    """G. Desargues' figure; as the compound truss in Timoshenko and Young, Theory of Structures (from memory).

    The inner triangle is the outer one shrunk towards (0, 0), so the links point there, unless a corner is moved.
    """
    outer = {"a": (-100.0, -60.0), "b": (110.0, -50.0), "c": (160.0, 80.0)}
    inner = {"d": (-40.0, -24.0), "e": (33.0, -15.0), "f": corner}
    pairs = ("ab", "bc", "ca", "de", "ef", "fd", "ad", "be", "cf")
    truss = Truss(outer | inner, tuple(member(*pair) for pair in pairs), {"a": PIN, "b": ROLLER})
    assert counts(truss) == (critical, 0, critical)


def test_two_triangles_on_three_parallel_links_move_too() -> None:
    """The point of the case before, at infinity."""
    outer = {"a": (0.0, 0.0), "b": (100.0, 10.0), "c": (60.0, 70.0)}
    inner = {low: (x + 250.0, y) for low, (x, y) in zip("def", outer.values(), strict=True)}
    pairs = ("ab", "bc", "ca", "de", "ef", "fd", "ad", "be", "cf")
    truss = Truss(outer | inner, tuple(member(*pair) for pair in pairs), {"a": PIN, "b": Support.roller(90.0)})
    assert counts(truss) == (1, 0, 1)


def simplex(twist_deg: float) -> Truss:
    """Three struts between two level triangles of ties, and three ties from corner to corner; free in space."""
    joints = ring(100.0) | ring(100.0, 150.0, twist_deg, "def")
    ties = ("ab", "bc", "ca", "de", "ef", "fd", "ad", "be", "cf")
    struts = ("ae", "bf", "cd")
    return Truss(joints, tuple(member(*pair) for pair in (*ties, *struts)))


@pytest.mark.parametrize(("twist", "critical"), [(30.0, 1), (20.0, 0), (45.0, 0)])
def test_the_simplex_of_struts_and_ties_can_be_stressed_at_a_twist_of_30_degrees_alone(twist, critical) -> None:
    """C. R. Calladine, "Buckminster Fuller's tensegrity structures and Clerk Maxwell's rules", Int. J. Solids
    Structures 14 (1978) (from memory): 12 bars and 6 joints, as many as hold it, yet one mechanism, stiffened by one
    state of self-stress in which all ties pull and all struts push.
    """
    truss = simplex(twist)
    assert counts(truss) == (critical, 6, critical)
    for state in self_stresses(truss):
        sign = -math.copysign(1.0, state.forces["a-e"])
        assert all(sign * state.forces[f"{p}-{q}"] < 0 for p, q in ("ae", "bf", "cd"))
        assert all(sign * force > 0 for name, force in state.forces.items() if name not in ("a-e", "b-f", "c-d"))


# --- self-stress: closed forms by the equilibrium of one joint


def test_a_hexagonal_wheel_pulls_its_spokes_as_much_as_it_pushes_its_rim() -> None:
    """At a rim joint the two rim bars stand at 60 degrees to the spoke: N_spoke + 2 N_rim cos 60 = 0."""
    joints = {n: v[:2] for n, v in ring(100.0, names="abcdef").items()} | {"hub": (0.0, 0.0)}
    pairs = [*("ab", "bc", "cd", "de", "ef", "fa"), *((n, "hub") for n in "abcdef")]
    (state,) = self_stresses(Truss(joints, tuple(member(*p) for p in pairs), {"a": PIN, "b": ROLLER}))
    rim, spoke = state.forces["a-b"], state.forces["a-hub"]
    assert spoke == pytest.approx(-rim)
    assert state.forces == pytest.approx({f"{p}-{q}": spoke if q == "hub" else rim for p, q in pairs})


def test_a_triangle_with_three_spokes_pulls_them_by_the_root_of_three() -> None:
    """At a corner the two sides stand at 30 degrees to the spoke: N_spoke + 2 N_side cos 30 = 0."""
    joints = {n: v[:2] for n, v in ring(100.0).items()} | {"hub": (0.0, 0.0)}
    pairs = [*("ab", "bc", "ca"), *((n, "hub") for n in "abc")]
    (state,) = self_stresses(Truss(joints, tuple(member(*p) for p in pairs), {"a": PIN, "b": ROLLER}))
    assert state.forces["b-hub"] / state.forces["b-c"] == pytest.approx(-math.sqrt(3))


def test_a_spoke_too_short_tightens_a_hexagonal_wheel_by_the_closed_form() -> None:
    """Twelve bars of one length with |n| = 1: X 12 r / EA = -g, g = -0.3 mm."""
    joints = {n: v[:2] for n, v in ring(100.0, names="abcdef").items()} | {"hub": (0.0, 0.0)}
    pairs = [*("ab", "bc", "cd", "de", "ef", "fa"), *((n, "hub") for n in "abcdef")]
    truss = Truss(joints, tuple(member(*p) for p in pairs), {"a": PIN, "b": ROLLER}, misfits={"d-hub": -0.3})
    assert solve(truss).forces["a-hub"] == pytest.approx(EA * 0.3 / 1200)


# --- self-weight


def test_two_rafters_carry_half_of_their_own_weight_at_the_ridge() -> None:
    """Each weighs 36 mm2 x 500 mm x 160 kg/m3 x 9.80665 m/s2 = 28.24 mN; half of both stands on the ridge: N = -W / (2 sin)."""
    joints = {"a": (0, 0), "b": (300, 400), "c": (600, 0)}
    truss = Truss(joints, (member("a", "b"), member("b", "c")), {"a": PIN, "c": PIN})
    weight = 36 * 500 * 160e-9 * 9.80665
    solution = solve(with_loads(truss, self_weight(truss, 160.0)))
    assert solution.forces["a-b"] == pytest.approx(-weight / (2 * 0.8))
    assert solution.reactions["a"] == pytest.approx((weight / 2 * 0.75, weight))
