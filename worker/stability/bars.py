"""Bars on hinges that move far: forces and tangent stiffness in the deformed shape.

Corotational bar with engineering strain: N = EA (l - L) / L along the line it lies on now.
Source: M. A. Crisfield, "Non-linear Finite Element Analysis of Solids and Structures", volume 1 (1991),
chapter 3.  Limits: linear elastic, bars that stay straight.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from worker.stability.freedoms import free_directions, relative
from worker.statics.structure import Floats, Structure


@dataclass(frozen=True, eq=False)
class Bars:
    """m bars with f free movements in d dimensions.

    spans:     (m, d) mm, undeformed
    lengths:   (m,) mm, undeformed
    stiffness: (m,) EA in N
    apart:     (m, d, f) how the second end moves from the first
    loads:     (f,) N
    Z:         (n d, f) movements of the joints
    """

    spans: Floats
    lengths: Floats
    stiffness: Floats
    apart: Floats
    loads: Floats
    Z: Floats

    @classmethod
    def of(cls, structure: Structure) -> Bars:
        """The bars of a truss and its loads."""
        Z = free_directions(structure)
        loads: Floats = Z.T @ structure.loads.ravel()
        return cls(structure.spans, structure.lengths, structure.axial_stiffness, relative(structure, Z), loads, Z)


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


def deformed(bars: Bars, z: Floats) -> Deformed:
    """Forces and tangent stiffness after the free movements ``z`` (f,) in mm.

    The stretch is taken from the movement and not as a difference of lengths, which would lose digits.
    """
    m, d, f = bars.apart.shape
    flat = bars.apart.reshape(m * d, f)
    moved = (flat @ z).reshape(m, d)
    spans = bars.spans + moved
    lengths = np.sqrt((spans**2).sum(axis=1))
    stretches = ((bars.spans + spans) * moved).sum(axis=1) / (bars.lengths + lengths)
    N = bars.stiffness * stretches / bars.lengths
    n = spans / lengths[:, None]
    turning = N / lengths
    blocks = (bars.stiffness / bars.lengths - turning)[:, None, None] * n[:, :, None] * n[:, None, :]
    blocks[:, np.arange(d), np.arange(d)] += turning[:, None]
    tangent: Floats = flat.T @ (blocks @ bars.apart).reshape(m * d, f)
    resistance: Floats = flat.T @ (N[:, None] * n).ravel()
    return Deformed(resistance, tangent, float(np.abs(N).max(initial=0.0)))


def softening(bars: Bars, z: Floats) -> Floats:
    """How the tangent stiffness begins to change along the movement ``z``: (f, f), N/mm for all of ``z``.

    Each bar turns, so that it pulls elsewhere, and takes on a force, which resists or helps the turning.
    """
    m, d, f = bars.apart.shape
    flat = bars.apart.reshape(m * d, f)
    moved = (flat @ z).reshape(m, d)
    n = bars.spans / bars.lengths[:, None]
    stretches = (n * moved).sum(axis=1)
    turned = (moved - stretches[:, None] * n) / bars.lengths[:, None]
    axial = (bars.stiffness / bars.lengths)[:, None, None]
    square = np.eye(d) - n[:, :, None] * n[:, None, :]
    both = turned[:, :, None] * n[:, None, :] + n[:, :, None] * turned[:, None, :]
    blocks = axial * (both + (stretches / bars.lengths)[:, None, None] * square)
    change: Floats = flat.T @ (blocks @ bars.apart).reshape(m * d, f)
    return change
