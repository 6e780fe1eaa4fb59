"""Snap-through: the truss followed along its path of equilibrium, in its deformed shape, to the first limit point.

Each step goes a given arc along the tangent and back onto the path in the plane square to it, so that a
load that stops growing is no obstacle.  E. Riks, "An incremental approach to the solution of snapping and
buckling problems", International Journal of Solids and Structures 15 (1979) 529-551.  The truss gives way
where the smallest eigenvalue of its tangent stiffness passes zero: at a limit point, or where a second
path branches off (it then buckles aside).

Limits: elastic bars that neither break nor bow; loads keep their directions; settlements and misfits are left out.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from worker.stability.bars import Bars, Deformed, deformed
from worker.stability.freedoms import by_joint, free_directions, refuse_unknown_stiffness, to_unit
from worker.stability.shallow import estimate
from worker.statics.structure import Floats, Structure
from worker.truss.model import Truss, Vector

STEPS = 200
"""Steps along the path before it is given up."""

CORRECTIONS = 10
"""Newton corrections in one step before it is made shorter."""

LOCATIONS = 60
"""Tries to close in on the point where the stiffness vanishes."""

ZERO = 1e-11
"""Lowest eigenvalue, over that before the last step, at which the closing in ends."""

CLOSE = 1e-11
"""Out of balance, over the loads and the forces in the bars, that counts as balance."""

STRAIGHT = 0.9
"""Least cosine between the tangents of two steps: a path that turns more is followed in shorter steps."""

DRIFT = 0.25
"""Distance of a new point from where the tangent aimed, over the arc, beyond which it may lie on another path."""

FIRST, LONGEST, SHORTEST = 0.07, 0.35, 1e-6
"""Arc of a step, in units of the linear movement and load at the scale of the path.

The longest grows with the path behind: past its scale, a step is at most that part of it."""

LOCATED = 1e-6
"""Lowest eigenvalue, over that of the undeformed truss, that counts as zero."""

NEARLY, CLOSEST = 0.1, 1e-3
"""Lowest eigenvalue, over that of the undeformed truss, below which a dip is looked at in steps down to CLOSEST."""

BRANCHES = 1e-6
"""Cosine between the loads and the vanishing movement below which another path branches off."""


@dataclass(frozen=True)
class LimitLoad:
    """Where a truss gives way as a whole when its loads grow in proportion.

    factor:        on the given loads; None where it does not give way up to the factor asked for
    kind:          ``limit``: it snaps through; ``branch``: it buckles aside; None with ``factor``
    reached:       factor at the last point of the path, at or past ``up_to`` unless it was lost
    displacements: mm by joint, at that point
    motion:        how it begins to give way, the largest movement 1; empty with ``factor`` None
    warning:       a sentence where the path was lost before its end, or its end found only roughly
    """

    factor: float | None
    kind: Literal["limit", "branch"] | None
    reached: float
    displacements: Mapping[str, Vector]
    motion: Mapping[str, Vector]
    warning: str | None


@dataclass(frozen=True, eq=False)
class _Scales:
    """What makes the path free of units: mm, factor on the loads, N."""

    move: float
    factor: float
    force: float


@dataclass(frozen=True, eq=False)
class _Point:
    """A point of equilibrium: x (f,) movement, y load, both over their scales; K over its scale."""

    x: Floats
    y: float
    K: Floats
    lowest: float


@dataclass(frozen=True, eq=False)
class _Tangent:
    """Direction of the path, of length 1 over movement and load together."""

    x: Floats
    y: float

    def turned(self, other: _Tangent) -> float:
        """Cosine of the angle between two tangents."""
        return float(self.x @ other.x) + self.y * other.y


def limit_load(truss: Truss, up_to: float = 10.0) -> LimitLoad:
    """Factor on the loads at which the truss first snaps through or buckles aside, followed up to ``up_to``.

    Permanent loads are there before the path begins; 0 is the factor where they alone are too much.
    Bounded: at most STEPS steps of CORRECTIONS corrections.  Raises StiffnessMissing where an area or
    modulus is unknown, ValueError for a mechanism.
    """
    structure = Structure.of(truss)
    refuse_unknown_stiffness(structure)
    bars = Bars.of(structure)
    if not bars.loads.size or not np.any(bars.loads):
        return LimitLoad(None, None, up_to, by_joint(truss.joints, structure, np.zeros(structure.loads.size)), {}, None)
    walk = _Walk(bars, _scales(bars, up_to))
    start = walk.start()
    if start is None:  # a truss of this kind never gets as far as its first load
        return LimitLoad(0.0, "limit", 0.0, by_joint(truss.joints, structure, np.zeros(structure.loads.size)), {}, None)
    found, last, lost = _followed(walk, start, up_to)
    scale = walk.scales
    Z = free_directions(structure)
    gone = by_joint(truss.joints, structure, Z @ last.x * scale.move)
    reached = last.y * scale.factor
    if found is None or reached > up_to:
        return LimitLoad(None, None, reached, gone, {}, _lost(reached) if lost else None)
    motion, kind = _way(walk, last)
    shown = by_joint(truss.joints, structure, to_unit(Z @ motion, structure.dimension))
    return LimitLoad(reached, kind, reached, gone, shown, _ROUGH if abs(last.lowest) > LOCATED * start.lowest else None)


class _Walk:
    """The equations of the path, free of units."""

    def __init__(self, bars: Bars, scales: _Scales) -> None:
        self.bars, self.scales = bars, scales
        self.loads = bars.loads * (scales.factor / scales.force)
        self.permanent = bars.permanent / scales.force

    def state(self, x: Floats) -> tuple[Floats, Floats, float]:
        """Resistance and tangent stiffness, over their scales, and the largest bar force over the loads."""
        got: Deformed = deformed(self.bars, x * self.scales.move)
        force = self.scales.force
        return got.resistance / force, got.tangent * (self.scales.move / force), got.push / force

    def start(self) -> _Point | None:
        """The shape under the permanent loads alone; None where they do not find a stable one."""
        x = np.zeros(len(self.loads))
        for _ in range(CORRECTIONS):
            resistance, K, push = self.state(x)
            gap = self.permanent - resistance
            if not np.isfinite(gap).all():
                return None
            if float(np.abs(gap).max()) <= CLOSE * (1 + push):
                lowest = _lowest(K)
                return _Point(x, 0.0, K, lowest) if lowest > 0 else None
            change = _solved(K, gap)
            if change is None:
                return None
            x = x + change
        return None

    def bordered(self, K: Floats, along: _Tangent) -> Floats:
        """Stiffness and loads with the tangent below: regular at limit points too."""
        f = len(self.loads)
        A = np.zeros((f + 1, f + 1))
        A[:f, :f], A[:f, f], A[f, :f], A[f, f] = K, -self.loads, along.x, along.y
        return A

    def tangent(self, point: _Point, before: _Tangent) -> _Tangent | None:
        """Direction of the path at a point, on in the sense of ``before``."""
        b = np.zeros(len(self.loads) + 1)
        b[-1] = 1.0
        t = _solved(self.bordered(point.K, before), b)
        if t is None:
            return None
        t /= float(np.linalg.norm(t))
        return _Tangent(t[:-1], float(t[-1]))

    def stepped(self, point: _Point, along: _Tangent, arc: float) -> _Point | None:
        """The point of the path in the plane square to the tangent, ``arc`` ahead; None where it is not found."""
        x, y = point.x + arc * along.x, point.y + arc * along.y
        aim = np.append(x, y)
        for _ in range(CORRECTIONS):
            resistance, K, push = self.state(x)
            gap = self.permanent + self.loads * y - resistance
            if not np.isfinite(gap).all():
                return None
            if float(np.abs(gap).max()) <= CLOSE * (1 + push):
                near = float(np.linalg.norm(np.append(x, y) - aim)) <= DRIFT * arc
                return _Point(x, y, K, _lowest(K)) if near else None
            off = arc - float(along.x @ (x - point.x)) - along.y * (y - point.y)
            change = _solved(self.bordered(K, along), np.append(gap, off))
            if change is None:
                return None
            x, y = x + change[:-1], y + float(change[-1])
        return None


def _scales(bars: Bars, up_to: float) -> _Scales:
    """The load at which things may happen, and the linear movement under it."""
    guess = estimate(bars)
    factor = up_to if guess is None else min(guess, up_to)
    linear = np.linalg.solve(deformed(bars, np.zeros(len(bars.loads))).tangent, bars.loads) * factor
    return _Scales(float(np.linalg.norm(linear)), factor, float(np.linalg.norm(bars.loads)) * factor)


def _followed(walk: _Walk, start: _Point, up_to: float) -> tuple[_Point | None, _Point, bool]:
    """(where stiffness vanishes or None, last point of the path, whether the path was lost)."""
    point, goal = start, up_to / walk.scales.factor
    along = walk.tangent(point, _Tangent(np.zeros_like(point.x), 1.0))
    before: tuple[_Point, _Tangent | None] | None = None
    arc = FIRST
    for _ in range(STEPS):
        if along is None or arc < SHORTEST:
            return None, point, True
        ahead = walk.stepped(point, along, arc)
        if ahead is None:
            arc /= 2
            continue
        if ahead.lowest <= 0:
            found = _located(walk, point, along, arc, ahead)
            return found, found, False
        if before is not None and arc > CLOSEST and _dips(before[0], point, ahead, start):
            (point, along), before, arc = before, None, arc / 4
            continue
        onward = walk.tangent(ahead, along)
        if onward is None or onward.y <= 0 or onward.turned(along) < STRAIGHT:
            arc /= 2
            continue
        if ahead.y >= goal:
            return None, ahead, False
        before, point, along, arc = (point, along), ahead, onward, min(1.5 * arc, LONGEST * max(1.0, abs(ahead.y)))
    return None, point, True


def _dips(before: _Point, point: _Point, ahead: _Point, start: _Point) -> bool:
    """Whether stiffness nearly vanished and came back, so that it may have vanished in between."""
    return point.lowest < min(before.lowest, ahead.lowest, NEARLY * start.lowest)


def _located(walk: _Walk, point: _Point, along: _Tangent, arc: float, beyond: _Point) -> _Point:
    """The point between ``point`` and ``beyond`` where the lowest eigenvalue is zero.

    Regula falsi, the value at an end that stays twice halved (Illinois).
    """
    a, at_a, b, at_b = 0.0, point.lowest, arc, beyond.lowest
    best, side = beyond, 0
    for _ in range(LOCATIONS):
        s = (a * at_b - b * at_a) / (at_b - at_a)
        between = walk.stepped(point, along, s) or walk.stepped(point, along, s := (a + b) / 2)
        if between is None:
            break
        best = min(best, between, key=lambda each: abs(each.lowest))
        if abs(between.lowest) <= ZERO * point.lowest or b - a <= ZERO * arc:
            break
        if between.lowest > 0:
            a, at_a, at_b = s, between.lowest, at_b / 2 if side > 0 else at_b
        else:
            b, at_b, at_a = s, between.lowest, at_a / 2 if side < 0 else at_a
        side = 1 if between.lowest > 0 else -1
    return best


def _way(walk: _Walk, point: _Point) -> tuple[Floats, Literal["limit", "branch"]]:
    """The movement whose stiffness vanishes, with the loads where they take part, and what it is."""
    way: Floats = np.linalg.eigh(point.K)[1][:, 0]
    work = float(way @ walk.loads) / float(np.linalg.norm(walk.loads))
    return (-way if work < 0 else way), "branch" if abs(work) < BRANCHES else "limit"


def _lowest(K: Floats) -> float:
    return float(np.linalg.eigvalsh(K)[0])


def _solved(A: Floats, b: Floats) -> Floats | None:
    try:
        x: Floats = np.linalg.solve(A, b).astype(np.float64)
    except np.linalg.LinAlgError:
        return None
    return x if np.isfinite(x).all() else None


_ROUGH = "The load at which the truss gives way could be found only roughly."


def _lost(reached: float) -> str:
    kept = math.floor(100 * reached) / 100
    return (
        f"Snap-through was looked for and not found up to {kept:g} times the load; "
        "beyond that the movements became too large to follow."
    )
