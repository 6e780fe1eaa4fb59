"""Linear buckling of the whole truss: small movements under forces that grow in proportion.

A bar that is pushed turns away from its line more easily, one that is pulled less easily.  Where the
pushed bars outweigh what the others hold, the truss gives way as a whole, though no member has.

Sources: J. S. Przemieniecki, "Theory of Matrix Structural Analysis" (1968), chapter 15, for the
geometric stiffness of a bar in its string form N / L (1 - n n'); any text on stability for the
eigenproblem.  Limits: straight bars on hinges, forces of the undeformed shape.  A shallow truss snaps
through at a smaller load than this: see ``path``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from worker.stability.freedoms import by_joint, free_directions, refuse_unknown_stiffness, relative, to_unit
from worker.statics.structure import Floats, Structure
from worker.truss.model import Truss, Vector

NOTHING = 1e-12
"""An eigenvalue below this part of the largest is rounding, not buckling."""

SINGULAR = 1e-13
"""A pivot of the stretches below this part of the largest means a mechanism."""


@dataclass(frozen=True)
class WholeBuckling:
    """factor: what the given forces must be multiplied by for the truss to buckle as a whole; None where it never does.

    motion: how each joint then begins to move; the largest movement is 1, the sign is free; empty for None.
    """

    factor: float | None
    motion: Mapping[str, Vector]


def buckling(truss: Truss, forces: Mapping[str, float], permanent: Mapping[str, float] | None = None) -> WholeBuckling:
    """Smallest positive factor at which stiffness plus factor times geometric stiffness is singular.

    ``forces``: N by member, tension positive, as from statics; all of them grow, those of settlements and
    misfits too.  ``permanent`` forces are there already and do not grow; 0 is the factor where they alone
    are too much.  Plane and space trusses, supports at any angle.  Raises StiffnessMissing where an area or
    modulus is unknown, ValueError for a mechanism.
    """
    structure = Structure.of(truss)
    refuse_unknown_stiffness(structure)
    Z = free_directions(structure)
    if not Z.shape[1]:
        return WholeBuckling(None, {})
    apart = relative(structure, Z)
    softness = _unit_energy_movements(structure, apart)
    if permanent:
        lowest, held = np.linalg.eigh(_geometric(structure, _by_member(structure, permanent), apart @ softness))
        if 1 + lowest[0] <= NOTHING:
            u = Z @ (softness @ held[:, 0])
            return WholeBuckling(0.0, by_joint(truss.joints, structure, to_unit(u, structure.dimension)))
        softness = softness @ (held / np.sqrt(1 + lowest))
    rates, modes = np.linalg.eigh(-_geometric(structure, _by_member(structure, forces), apart @ softness))
    if rates[-1] <= NOTHING * np.abs(rates).max():
        return WholeBuckling(None, {})
    u = Z @ (softness @ modes[:, -1])
    return WholeBuckling(1 / float(rates[-1]), by_joint(truss.joints, structure, to_unit(u, structure.dimension)))


def _by_member(structure: Structure, forces: Mapping[str, float]) -> Floats:
    return np.array([forces[name] for name in structure.member_names])


def _unit_energy_movements(structure: Structure, apart: Floats) -> Floats:
    """W of shape (f, f) with ``W.T @ K @ W == 1``, K being the stiffness of the truss.

    Found from the stretches A with K = A'A = R'R, so that the condition of A is not squared.
    """
    cosines = structure.spans / structure.lengths[:, None]
    root = np.sqrt(structure.axial_stiffness / structure.lengths)
    A = root[:, None] * np.einsum("md,mdf->mf", cosines, apart)
    R = np.linalg.qr(A, mode="r")
    pivots = np.abs(np.diag(R))
    if len(R) < A.shape[1] or pivots.min() <= SINGULAR * pivots.max():
        raise ValueError("the truss is a mechanism: it moves under no load at all, so it has no buckling factor")
    return np.asarray(np.linalg.inv(R), dtype=np.float64)


def _geometric(structure: Structure, N: Floats, apart: Floats) -> Floats:
    """Geometric stiffness in the movements of ``apart``: N / L times the parts square to each bar."""
    cosines = structure.spans / structure.lengths[:, None]
    along = np.einsum("md,mdf->mf", cosines, apart)
    weights = N / structure.lengths
    flat = apart.reshape(-1, apart.shape[2])
    whole: Floats = flat.T @ (np.repeat(weights, structure.dimension)[:, None] * flat)
    lengthwise: Floats = along.T @ (weights[:, None] * along)
    return whole - lengthwise
