"""The least volume on a ground structure, by plastic layout optimisation.

Each bar carries a tension t or a compression c with just enough area, so the volume is
sum L (t / tension strength + c / compression strength), least under equilibrium at every joint:
a linear programme (Dorn, Gomory and Greenberg, 1964, from memory).  Its dual is a movement u of
the joints that strains no bar beyond 1 / strength (Michell, 1904, from memory); the work of the load
along any such u is a lower bound.  Bars that the movement of a sparse structure strains too far are added
until none is left: member adding (Gilbert and Tyas, 2003, from memory).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from worker.advice.par.ground import Floats, Ground, Integers, equilibrium, free_directions, ground, number_of
from worker.truss.model import Support, Vector

COLUMNS = 24
GAP = 1e-4
"""Volume and lower bound agree to this part."""

MOST_ROUNDS = 60
INWARD = 0.5
"""Where new bars are looked for: between the best allowed movement (0) and the newest one (1)."""

CARRIES = 1e-9
"""Part of the whole load: a bar with less force is left out of the answer."""


@dataclass(frozen=True)
class Par:
    """The lightest truss on a grid.

    ``bars`` lists joint number, joint number, area in mm2, force in N (tension positive); ``bound_mm3`` is what no
    truss on the same grid goes below; ``residual`` is the largest unbalanced force over the whole load;
    ``grid`` counts the cells across and up.
    """

    volume_mm3: float
    bound_mm3: float
    residual: float
    bars: tuple[tuple[int, int, float, float], ...]
    joints: tuple[tuple[float, float], ...]
    grid: tuple[int, int]


def par(
    span_mm: float,
    above_mm: float,
    below_mm: float,
    supports: Mapping[tuple[float, float], Support],
    loads: Mapping[tuple[float, float], tuple[float, float]],
    tension_MPa: float,
    compression_MPa: float,
    columns: int = COLUMNS,
) -> Par | None:
    """The least volume of any truss in 0 <= x <= span, -below <= y <= above that carries ``loads``.

    Supports and loads stand at points, mm, of the envelope; loads in N, y up.  None where no truss in the envelope
    can carry the load with these supports.

    What it leaves out: buckling, the weight of joints and glue, the sizes that sticks come in, the truss's own
    weight.  So no bridge that is built reaches it.  Joints stand on a grid, so a truss with joints anywhere
    could be lighter still: at 24 columns by about 1 % where the envelope is deep (measured on Michell's two
    beams), by less where it is shallow.
    """
    load = sum(float(np.hypot(*force)) for force in loads.values())
    if load == 0:
        return None
    unit = _unit_par(
        above_mm / span_mm,
        below_mm / span_mm,
        tuple(sorted(((x / span_mm, y / span_mm), s) for (x, y), s in supports.items())),
        tuple(sorted(((x / span_mm, y / span_mm), (p / load, q / load)) for (x, y), (p, q) in loads.items())),
        compression_MPa / tension_MPa,
        columns,
    )
    return unit and _scaled(unit, span_mm, load, tension_MPa)


def _scaled(unit: Par, span: float, load: float, tension: float) -> Par:
    """Volume grows with load and span and falls with strength; a layout stays as it is."""
    return Par(
        unit.volume_mm3 * load * span / tension,
        unit.bound_mm3 * load * span / tension,
        unit.residual,
        tuple((a, b, area * load / tension, force * load) for a, b, area, force in unit.bars),
        tuple((x * span, y * span) for x, y in unit.joints),
        unit.grid,
    )


@lru_cache(maxsize=64)
def _unit_par(
    above: float,
    below: float,
    supports: tuple[tuple[Vector, Support], ...],
    loads: tuple[tuple[Vector, Vector], ...],
    compression: float,
    columns: int,
) -> Par | None:
    """Par for a span, a whole load and a tensile strength of 1."""
    base = ground(1.0, above, below, [point for point, _ in (*supports, *loads)], columns)
    held = {number_of(base, point): support for point, support in supports}
    directions = free_directions(len(base.joints), held)
    asked = np.zeros_like(base.joints)
    for point, force in loads:
        asked[number_of(base, point)] += force
    found = _least(base, directions, asked, compression)
    if found is None:
        return None
    bars, forces, bound, residual = found
    areas = np.maximum(forces, -forces / compression)
    return Par(
        float(base.lengths[bars] @ areas),
        bound,
        residual,
        tuple(
            (int(base.starts[bar]), int(base.ends[bar]), float(area), float(force))
            for bar, area, force in zip(bars, areas, forces, strict=True)
            if abs(force) > CARRIES
        ),
        tuple((float(x), float(y)) for x, y in base.joints),
        base.grid,
    )


def _least(
    base: Ground, directions: tuple[Integers, Floats], asked: Floats, compression: float
) -> tuple[Integers, Floats, float, float] | None:
    """Bars, their forces, the lower bound and the residual; None where nothing carries the load."""
    joints, vectors = directions
    load = np.einsum("ij,ij->i", asked[joints], vectors)
    active, every = base.near.copy(), equilibrium(base, directions)
    inner, bound = np.zeros_like(base.joints), 0.0
    for _ in range(MOST_ROUNDS):
        bars = np.flatnonzero(active)
        matrix = every[:, bars]
        solved = _programme(matrix, load, base.lengths[bars], compression)
        if solved is None:
            return None
        forces, dual = solved
        volume = float(base.lengths[bars] @ np.maximum(forces, -forces / compression))
        outer = np.zeros_like(base.joints)
        np.add.at(outer, joints, dual[:, None] * vectors)
        for movement in (outer, INWARD * outer + (1 - INWARD) * inner):
            strain = base.stretch(movement)
            full = np.maximum(strain, -strain * compression)
            allowed = movement / max(1.0, float(full.max()))
            work = float((asked * allowed).sum())
            if work > bound:
                inner, bound = allowed, work
            active |= _fullest(full, active, len(base.joints))
        if bound >= volume * (1 - GAP) or active.sum() == len(bars):
            break
    return bars, forces, bound, float(np.abs(matrix @ forces - load).max())


def _fullest(full: Floats, active: Any, most: int) -> Any:
    """The bars strained furthest beyond what is allowed, at most ``most`` of them."""
    over = np.flatnonzero((full > 1 + GAP) & ~active)
    chosen = np.zeros(len(full), bool)
    chosen[over[np.argsort(-full[over], kind="stable")][:most]] = True
    return chosen


def _programme(matrix: Any, load: Floats, lengths: Floats, compression: float) -> tuple[Floats, Floats] | None:
    """Least sum L (t + c / compression) with matrix (t - c) = load, t and c >= 0: the forces and the dual."""
    from scipy.optimize import linprog
    from scipy.sparse import hstack

    result = linprog(
        np.concatenate((lengths, lengths / compression)),
        A_eq=hstack((matrix, -matrix)),
        b_eq=load,
        bounds=(0, None),
        method="highs-ipm",
    )
    if result.status != 0:
        return None
    count = len(lengths)
    return result.x[:count] - result.x[count:], result.eqlin.marginals
