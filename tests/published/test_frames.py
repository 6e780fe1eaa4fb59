"""Trusses and textbook frames with rigid joints against closed forms, a reference and two libraries."""

from __future__ import annotations

import itertools
import math

import pytest

from tests import whole
from tests.trusses import pratt
from worker.frame import FrameSolution, frame
from worker.statics import solve
from worker.truss.model import Member, Support, Truss, Vector

E, A, I = 3400.0, 3.6e7, 108.0  # noqa: E741 -- an area so large that members keep their length
LENGTH, LOAD = 240.0, 7.0


def beam(joints: dict[str, Vector], supports: dict[str, Support], loads: dict[str, Vector]) -> Truss:
    """Joints in line, each joined to the next."""
    names = list(joints)
    members = tuple(Member(f"{a}-{b}", a, b, area_mm2=A, modulus_MPa=E) for a, b in itertools.pairwise(names))
    return Truss(joints, members, supports, loads)


def solved(truss: Truss, clamped: tuple[str, ...] = (), **second_moments: float) -> FrameSolution:
    moments = {m.name: second_moments.get(m.name.replace("-", "_"), I) for m in truss.members}
    return frame(truss, moments, dict.fromkeys(moments, 3.0), clamped)


def span(supports: dict[str, Support], load: float = LOAD) -> Truss:
    """A beam of LENGTH from a to c, loaded at b in the middle."""
    joints: dict[str, Vector] = {"a": (0.0, 0.0), "b": (LENGTH / 2, 0.0), "c": (LENGTH, 0.0)}
    return beam(joints, supports, {"b": (0.0, -load)})


def test_a_pratt_girder_with_rigid_joints_matches_the_reference() -> None:
    # 6 panels of 75 mm, depth 100 mm, 5 x 20 N, balsa 6 x 6: midspan -0.387229 against -0.389604 mm with hinges,
    # largest change of axial force 0.78 %, bending stress up to 0.246 of the largest axial stress
    truss = pratt(6, 75.0, 100.0, 20.0)
    found = frame(truss, {m.name: 108.0 for m in truss.members}, {m.name: 3.0 for m in truss.members})
    hinged = solve(truss).displacements
    assert hinged is not None
    assert found.displacements["b3"][1] == pytest.approx(-0.387229, abs=5e-7)
    assert hinged["b3"][1] == pytest.approx(-0.389604, abs=5e-7)
    assert found.largest_change == pytest.approx(0.0078, abs=5e-5)
    assert found.bending_share == pytest.approx(0.246, abs=5e-4)


def test_a_cantilever_bends_by_its_closed_form() -> None:
    """P L^3 / 3 E I, turning P L^2 / 2 E I, moment P L at the wall (any text)."""
    truss = beam({"a": (0, 0), "b": (LENGTH, 0)}, {"a": Support.pin()}, {"b": (0.0, -LOAD)})
    found = solved(truss, clamped=("a",))
    assert found.displacements["b"][1] == pytest.approx(-LOAD * LENGTH**3 / (3 * E * I))
    assert found.rotations["b"] == pytest.approx(-LOAD * LENGTH**2 / (2 * E * I))
    assert found.end_moments["a-b"] == pytest.approx((LOAD * LENGTH, 0.0), abs=1e-9)
    assert found.bending_MPa["a-b"] == pytest.approx(LOAD * LENGTH * 3 / I)


def test_a_simple_beam_bends_by_its_closed_form() -> None:
    """P L^3 / 48 E I, moment P L / 4 under the load (any text)."""
    found = solved(span({"a": Support.pin(), "c": Support.roller()}))
    assert found.displacements["b"][1] == pytest.approx(-LOAD * LENGTH**3 / (48 * E * I))
    assert found.end_moments["a-b"] == pytest.approx((0.0, LOAD * LENGTH / 4), abs=1e-9)
    assert found.end_moments["b-c"] == pytest.approx((-LOAD * LENGTH / 4, 0.0), abs=1e-9)


def test_a_beam_fixed_at_both_ends_bends_by_its_closed_form() -> None:
    """P L^3 / 192 E I, moments P L / 8 (any text)."""
    found = solved(span({"a": Support.pin(), "c": Support.pin()}), clamped=("a", "c"))
    assert found.displacements["b"][1] == pytest.approx(-LOAD * LENGTH**3 / (192 * E * I))
    assert found.end_moments["a-b"] == pytest.approx((LOAD * LENGTH / 8, LOAD * LENGTH / 8))


def test_a_propped_cantilever_bends_by_its_closed_form() -> None:
    """7 P L^3 / 768 E I under the load, moment 3 P L / 16 at the wall (any text)."""
    found = solved(span({"a": Support.pin(), "c": Support.roller()}), clamped=("a",))
    assert found.displacements["b"][1] == pytest.approx(-7 * LOAD * LENGTH**3 / (768 * E * I))
    assert found.end_moments["a-b"][0] == pytest.approx(3 * LOAD * LENGTH / 16)


def test_a_beam_over_two_spans_has_its_support_moment() -> None:
    """3 P L / 32 over the middle support with one span loaded in its middle (three-moment equation)."""
    joints: dict[str, Vector] = {"a": (0, 0), "b": (LENGTH / 2, 0), "c": (LENGTH, 0), "d": (2 * LENGTH, 0)}
    supports = {"a": Support.pin(), "c": Support.roller(), "d": Support.roller()}
    found = solved(beam(joints, supports, {"b": (0.0, -LOAD)}))
    assert found.end_moments["c-d"] == pytest.approx((3 * LOAD * LENGTH / 32, 0.0), abs=1e-9)


def test_a_fixed_beam_whose_support_settles_has_its_closed_form() -> None:
    """6 E I s / L^2 at both ends (any text)."""
    joints: dict[str, Vector] = {"a": (0, 0), "b": (LENGTH, 0)}
    plain = beam(joints, {"a": Support.pin(), "b": Support.pin()}, {})
    truss = Truss(plain.joints, plain.members, plain.supports, settlements={"b": (0.0, -2.0)})
    wanted = 6 * E * I * 2.0 / LENGTH**2
    assert solved(truss, clamped=("a", "b")).end_moments["a-b"] == pytest.approx((wanted, wanted))


HEIGHT, WIDTH = 150.0, 240.0
PORTAL: dict[str, Vector] = {"a": (0, 0), "b": (0, HEIGHT), "c": (WIDTH, HEIGHT), "d": (WIDTH, 0)}


def test_a_portal_on_hinges_sways_by_its_closed_form() -> None:
    """Each column takes half of H: moment H h / 2 at the corners, sway H h^3 / 6 E Ic + H h^2 L / 12 E Ib.

    By virtual work; A. Kleinlogel, "Rigid Frame Formulas" (from memory).
    """
    truss = beam(PORTAL, {"a": Support.pin(), "d": Support.pin()}, {"b": (LOAD / 2, 0.0), "c": (LOAD / 2, 0.0)})
    found = solved(truss, b_c=3 * I)
    sway = LOAD * HEIGHT**3 / (6 * E * I) + LOAD * HEIGHT**2 * WIDTH / (12 * E * 3 * I)
    assert found.displacements["b"][0] == pytest.approx(sway, rel=1e-5)
    assert found.end_moments["a-b"] == pytest.approx((0.0, LOAD * HEIGHT / 2), rel=1e-5, abs=1e-9)
    assert found.largest_change is None  # with hinges it would fall over


@pytest.mark.parametrize("stiffer", [0.5, 1.0, 4.0])
def test_a_portal_with_fixed_feet_sways_by_its_closed_form(stiffer: float) -> None:
    """k = (Ib / L) / (Ic / h): foot H h / 2 (3 k + 1) / (6 k + 1), corner H h / 2 (3 k) / (6 k + 1).

    A. Kleinlogel, "Rigid Frame Formulas" (from memory); slope-deflection gives the same.
    """
    truss = beam(PORTAL, {"a": Support.pin(), "d": Support.pin()}, {"b": (LOAD, 0.0)})
    found = solved(truss, clamped=("a", "d"), b_c=stiffer * I)
    k = stiffer * HEIGHT / WIDTH
    half = LOAD * HEIGHT / 2
    wanted = (half * (3 * k + 1) / (6 * k + 1), half * 3 * k / (6 * k + 1))
    assert found.end_moments["a-b"] == pytest.approx(wanted, rel=1e-4)


def test_a_portal_under_a_load_in_mid_beam_pushes_its_feet_apart() -> None:
    """Hinged feet: thrust H = 3 P L / (8 h (2 k + 3)), k = (Ib / L) h / Ic; corner moment H h.

    A. Kleinlogel, "Rigid Frame Formulas" (from memory).
    """
    joints = {"a": PORTAL["a"], "b": PORTAL["b"], "m": (WIDTH / 2, HEIGHT), "c": PORTAL["c"], "d": PORTAL["d"]}
    found = solved(beam(joints, {"a": Support.pin(), "d": Support.pin()}, {"m": (0.0, -LOAD)}))
    k = HEIGHT / WIDTH
    corner = 3 * LOAD * WIDTH / (8 * (2 * k + 3))
    assert abs(found.end_moments["a-b"][1]) == pytest.approx(corner, rel=1e-4)
    assert found.forces["a-b"] == pytest.approx(-LOAD / 2)


def test_two_like_beams_share_the_moment_of_their_corner() -> None:
    """Slope-deflection: the lengths of both beams hold the corner in place, and 4 E I / L of each shares its turning.

    One far end moves by s across its beam: 6 E I s / L^2 with the corner held, half of it when the corner turns.
    """
    joints: dict[str, Vector] = {"a": (0, 0), "b": (LENGTH, 0), "c": (LENGTH, -LENGTH)}
    plain = beam(joints, {"a": Support.pin(), "c": Support.pin()}, {})
    truss = Truss(plain.joints, plain.members, plain.supports, settlements={"a": (0.0, 2.0)})
    corner = 3 * E * I * 2.0 / LENGTH**2
    found = solved(truss, clamped=("a", "c"))
    assert [abs(x) for x in (found.end_moments["a-b"][1], found.end_moments["b-c"][0])] == pytest.approx(
        [corner, corner], rel=1e-4
    )


def test_frames_agree_with_two_libraries_on_198_trusses() -> None:
    found = whole.agreement(whole.frame_off, filter(whole.is_plane, whole.cases()))
    print("\n".join(found.lines()))
    assert sum(found.counts.values()) == 198
    assert all(len(row) == 4 and math.isfinite(sum(row.values())) for row in found.largest.values())
    assert max(max(row.values()) for row in found.largest.values()) < 1e-8
