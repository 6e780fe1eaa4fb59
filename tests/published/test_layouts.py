"""Par against least-volume layouts that are known.

Volumes are in units of load x span / strength (or load x distance / strength), P = 1, both strengths 1 unless
said otherwise.  Sources:

- Michell, A. G. M., "The limits of economy of material in frame-structures", Phil. Mag. 8 (1904): the two beams
  under a load at midspan, and the frame at 45 degrees from a wall (from memory; the volumes are derived below).
- Maxwell, J. C., "On reciprocal figures, frames, and diagrams of forces" (1870): sum T L - sum C L depends on the
  outer forces alone (from memory).
- Archivo Digital UPM, eprint 9033, abstract: uniform load w, simply supported, V = k w L^2 / f with k = 0.985
  (frames above the line of load) and k = 0.758 (above and below).
- Darwich, Gilbert and Tyas, "Optimum structure to carry a uniform load between pinned supports", Struct. Multidisc.
  Optim. 42 (2010), abstract: a parabolic arch is not the optimum.
- Closed forms that are derived where they stand.
"""

from __future__ import annotations

import math

import pytest

from worker.advice.par import Par, par
from worker.truss.model import Support

PIN, ROLLER = Support.pin(), Support.roller()
MIDSPAN = {(0.5, 0.0): (0.0, -1.0)}
ENDS_PINNED = {(0.0, 0.0): PIN, (1.0, 0.0): PIN}
SIMPLE = {(0.0, 0.0): PIN, (1.0, 0.0): ROLLER}


def solved(span, above, below, supports, loads, columns, tension=1.0, compression=1.0) -> Par:
    found = par(span, above, below, supports, loads, tension, compression, columns)
    assert found is not None
    return found


def volume(*given, **more) -> float:
    return solved(*given, **more).volume_mm3


def along(panels: int) -> dict[tuple[float, float], tuple[float, float]]:
    """A uniform load of 1 in all, on the joints between the panels."""
    return {(i / panels, 0.0): (0.0, -1 / panels) for i in range(1, panels)}


BEAMS = [
    # Two pins, frame above: struts at 45 degrees carry P/sqrt2 over L/(2 sqrt2), twice: PL/2.  A quarter-circle rim
    # of the same radius and force: PL pi/8.  Its spokes: as much again.
    ("two pins, above", ENDS_PINNED, 0.5, 0.0, 0.5 + math.pi / 4),
    # Pin and roller, above: half a circle on the span, rim force P/2 over pi L/2, spokes as much again.
    ("pin and roller, above", SIMPLE, 0.5, 0.0, math.pi / 2),
    # Pin and roller, above and below: two of the first, each with half the load; their thrusts cancel.
    ("pin and roller, above and below", SIMPLE, 0.4, 0.4, 0.5 + math.pi / 4),
]


@pytest.mark.parametrize(("name", "supports", "above", "below", "exact"), BEAMS)
def test_michells_beams_are_approached_from_above(name, supports, above, below, exact) -> None:
    coarse, fine = (volume(1.0, above, below, supports, MIDSPAN, columns) for columns in (6, 20))
    assert exact < fine < coarse
    assert fine == pytest.approx(exact, rel=0.015)


@pytest.mark.parametrize(("tension", "exact"), [(1.0, 2.0), (4.0, 1.0)])
def test_a_frame_from_a_wall_stands_square_at_its_load(tension, exact) -> None:
    """A load parallel to a wall at distance d: bars with slopes t and s, V = Pd ((1+t^2)/ft + (1+s^2)/fc)/(t+s).

    Least at t = sqrt(ft/fc), s = 1/t: square to each other, V = 2 P d / sqrt(ft fc).
    """
    wall = {(0.0, y / 4): PIN for y in range(-8, 9)}
    assert volume(1.0, 2.0, 2.0, wall, {(1.0, 0.0): (0.0, -1.0)}, 4, tension=tension) == pytest.approx(exact, rel=1e-4)


@pytest.mark.parametrize("height", [0.5, 1.0, 1.5, 2.0])
def test_two_bars_from_two_pins(height) -> None:
    """Pins 2a apart, load P over the middle at height h: force P/(2 sin), V = P (h + a^2/h); 45 degrees is least."""
    pins = {(0.0, 0.0): PIN, (2.0, 0.0): PIN}
    found = volume(2.0, height, 0.0, pins, {(1.0, height): (0.0, -1.0)}, 8)
    assert found == pytest.approx(height + 1 / height, rel=1e-4)
    assert found >= 2 - 1e-9


@pytest.mark.parametrize("degrees", [0, 15, 30, 45, 60, 75, 90])
def test_three_bars_from_three_pins(degrees) -> None:
    """Pins a apart, the joint a under the middle one, load P at an angle from straight down.

    Of three bars two work.  Up to 45 degrees the upright one and the nearer slope: Px sqrt2 sqrt2 a + (Py - Px) a =
    (Px + Py) a.  Beyond, both slopes: 2 Px a.
    """
    x, y = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    pins = {(0.0, 0.0): PIN, (1.0, 0.0): PIN, (2.0, 0.0): PIN}
    exact = x + y if degrees <= 45 else 2 * x
    assert volume(2.0, 0.0, 1.0, pins, {(1.0, -1.0): (x, -y)}, 4) == pytest.approx(exact, rel=1e-4)


@pytest.mark.parametrize(("above", "below", "exact"), [(0.5, 0.0, 0.985), (0.36, 0.36, 0.758)])
def test_a_uniform_load_needs_what_the_best_layouts_known_need(above, below, exact) -> None:
    """The load stands on 11 joints, and joints on a grid of cells L/24 and coarser: within 2 %."""
    assert volume(1.0, above, below, SIMPLE, along(12), 24) == pytest.approx(exact, rel=0.02)


def test_a_parabolic_arch_over_pins_is_bettered() -> None:
    """Load hung from an arch of rise r: wL^3/(8r) + 2wrL/3 for the arch, 2wrL/3 for the hangers.

    Least sqrt(2/3) w L^2.  The arch is a polygon here: with n panels M falls by 1 - 1/n^2 at most.
    """
    panels = 12
    assert volume(1.0, 0.5, 0.0, ENDS_PINNED, along(panels), 24) < math.sqrt(2 / 3) * (1 - 1 / panels**2)


@pytest.mark.parametrize(("tension", "compression"), [(21.6, 14.9), (60.0, 32.6), (5.0, 50.0)])
@pytest.mark.parametrize(("above", "below"), [(0.3, 0.0), (0.25, 0.1)])
def test_unequal_strengths_follow_maxwells_lemma(above, below, tension, compression) -> None:
    """All outer forces stand upright on one line, so sum T L = sum C L: V = V1 (1/ft + 1/fc) / 2, for any envelope."""
    equal = volume(1.0, above, below, SIMPLE, MIDSPAN, 12)
    found = volume(1.0, above, below, SIMPLE, MIDSPAN, 12, tension=tension, compression=compression)
    assert found == pytest.approx(equal * (1 / tension + 1 / compression) / 2, rel=2e-4)


def test_tension_and_compression_balance_as_maxwell_says() -> None:
    found = solved(1.0, 0.3, 0.0, SIMPLE, MIDSPAN, 12)
    terms = [force * math.dist(found.joints[a], found.joints[b]) for a, b, _, force in found.bars]
    assert sum(terms) == pytest.approx(0, abs=1e-9)


def test_a_pull_along_the_line_of_the_supports_is_one_straight_tie() -> None:
    loads = {(1.0, 0.0): (1.0, 0.0)}
    assert volume(1.0, 0.5, 0.5, SIMPLE, loads, 6) == pytest.approx(1.0, rel=1e-4)
