"""A statically determinate truss: as many unknown forces as equations, so equilibrium alone gives them."""

from __future__ import annotations

import numpy as np

from worker.statics.structure import Floats, Structure


def forces(structure: Structure, E: Floats) -> Floats:
    """q = [member forces, reactions] in N, shape (m + r,), from ``E @ q = -loads``.

    Settlements, misfits and stiffness have no say: the truss follows them without a force.
    """
    return np.asarray(np.linalg.solve(E, -structure.loads.ravel()), dtype=np.float64)


def displacements(structure: Structure, E: Floats, q: Floats) -> Floats | None:
    """Movement of each joint in mm, shape (n, d); None where any member's stiffness is unknown.

    Each member is longer by N L / (E A) and by its misfit, each support goes where it settles: ``E.T @ u`` is known.
    """
    if np.isnan(structure.axial_stiffness).any():
        return None
    stretches = q[: len(structure.ends)] * structure.lengths / structure.axial_stiffness + structure.misfits
    known = np.concatenate([-stretches, structure.held_settlements])
    return np.linalg.solve(E.T, known).reshape(structure.coordinates.shape)
