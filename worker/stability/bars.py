"""Bars on hinges that move far: forces and tangent stiffness in the deformed shape.

Corotational bar with engineering strain: N = EA (l - L) / L along the line it lies on now.
Source: M. A. Crisfield, "Non-linear Finite Element Analysis of Solids and Structures", volume 1 (1991),
chapter 3.  Limits: linear elastic, bars that stay straight.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from worker.stability.freedoms import freedoms
from worker.statics.structure import Floats, Indices, Structure


@dataclass(frozen=True, eq=False)
class Bars:
    """m bars with f free movements in d dimensions.

    spans:     (m, d) mm, undeformed
    lengths:   (m,) mm, undeformed
    stiffness: (m,) EA in N
    apart:     (m, d, 2 d) how the second end moves from the first, for the directions of both joints
    columns:   (m, 2 d) which free movement each of these is; f where it is held
    loads:     (f,) N, those that grow
    permanent: (f,) N, those that are there from the start
    """

    spans: Floats
    lengths: Floats
    stiffness: Floats
    apart: Floats
    columns: Indices
    loads: Floats
    permanent: Floats

    @classmethod
    def of(cls, structure: Structure) -> Bars:
        """The bars of a truss and its loads."""
        free = freedoms(structure)
        start, end = structure.ends.T
        growing, permanent = (
            _added(free.columns, np.einsum("nij,ni->nj", free.directions, each), free.count + 1)[: free.count]
            for each in (structure.loads - structure.permanent, structure.permanent)
        )
        return cls(
            spans=structure.spans,
            lengths=structure.lengths,
            stiffness=structure.axial_stiffness,
            apart=np.concatenate([-free.directions[start], free.directions[end]], axis=2),
            columns=np.concatenate([free.columns[start], free.columns[end]], axis=1),
            loads=growing,
            permanent=permanent,
        )

    def moved(self, z: Floats) -> Floats:
        """(m, d): how the second end of each bar moves from the first."""
        along = np.append(z, 0.0)[self.columns]
        moved: Floats = (self.apart @ along[:, :, None])[:, :, 0]
        return moved

    def summed(self, pulls: Floats) -> Floats:
        """(f,): the pulls (m, d) of the bars in the free movements."""
        f = len(self.loads)
        return _added(self.columns, pulls[:, None, :] @ self.apart, f + 1)[:f]

    def assembled(self, blocks: Floats) -> Floats:
        """(f, f): the stiffness of all bars from that of each against its ends moving apart, (m, d, d)."""
        f = len(self.loads)
        each = self.apart.transpose(0, 2, 1) @ blocks @ self.apart
        places = self.columns[:, :, None] * (f + 1) + self.columns[:, None, :]
        whole = _added(places, each, (f + 1) ** 2)
        return whole.reshape(f + 1, f + 1)[:f, :f]


@dataclass(frozen=True, eq=False)
class Deformed:
    """What bars do in a deformed shape.

    resistance: (f,) N, the loads that hold this shape in equilibrium
    tangent:    (f, f) N/mm
    push:       largest force in a bar, N, without sign
    """

    resistance: Floats
    tangent: Floats
    push: float


def _added(places: Indices, values: Floats, count: int) -> Floats:
    """(count,): the values added up place by place."""
    return np.asarray(np.bincount(places.ravel(), values.ravel(), count), dtype=np.float64)


def deformed(bars: Bars, z: Floats) -> Deformed:
    """Forces and tangent stiffness after the free movements ``z`` (f,) in mm.

    The stretch is taken from the movement and not as a difference of lengths, which would lose digits.
    """
    d = bars.spans.shape[1]
    moved = bars.moved(z)
    spans = bars.spans + moved
    lengths = np.sqrt((spans**2).sum(axis=1))
    stretches = ((bars.spans + spans) * moved).sum(axis=1) / (bars.lengths + lengths)
    N = bars.stiffness * stretches / bars.lengths
    n = spans / lengths[:, None]
    turning = N / lengths
    blocks = (bars.stiffness / bars.lengths - turning)[:, None, None] * n[:, :, None] * n[:, None, :]
    blocks[:, np.arange(d), np.arange(d)] += turning[:, None]
    return Deformed(bars.summed(N[:, None] * n), bars.assembled(blocks), float(np.abs(N).max(initial=0.0)))


def softening(bars: Bars, z: Floats) -> Floats:
    """How the tangent stiffness begins to change along the movement ``z``: (f, f), N/mm for all of ``z``.

    Each bar turns, so that it pulls elsewhere, and takes on a force, which resists or helps the turning.
    """
    moved = bars.moved(z)
    n = bars.spans / bars.lengths[:, None]
    stretches = (n * moved).sum(axis=1)
    turned = (moved - stretches[:, None] * n) / bars.lengths[:, None]
    axial = (bars.stiffness / bars.lengths)[:, None, None]
    square = np.eye(n.shape[1]) - n[:, :, None] * n[:, None, :]
    both = turned[:, :, None] * n[:, None, :] + n[:, :, None] * turned[:, None, :]
    return bars.assembled(axial * (both + (stretches / bars.lengths)[:, None, None] * square))
