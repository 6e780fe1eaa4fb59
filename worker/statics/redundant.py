"""A redundant truss: more unknown forces than equations, so stretches must fit together too."""

from __future__ import annotations

import numpy as np

from worker.statics.structure import Floats, Structure


class StiffnessMissing(ValueError):
    """A redundant truss has members whose area or modulus is unknown."""


def forces_and_displacements(structure: Structure, E: Floats) -> tuple[Floats, Floats]:
    """q = [member forces, reactions] in N, (m + r,), and movements of the joints in mm, (n, d).

    Equilibrium and compatibility are solved together, with the flexibility f = L / (E A) of
    each member and the settlement s in each held direction:

        [ f  E.T ] [ q ]   [    s   ]
        [ E   0  ] [ u ] = [ -loads ]

    Eliminating the member forces would give the direct stiffness method; keeping them holds each
    support exactly, in any direction, and does not square the condition of E as a stiffness
    matrix does.  Raises StiffnessMissing.
    """
    _refuse_unknown_stiffness(structure)
    m, r, dof = len(structure.ends), len(structure.held_joints), E.shape[0]
    flexibilities = structure.lengths / structure.axial_stiffness
    unit = float(flexibilities.max())  # then no element of A is above 1
    A = np.zeros((m + r + dof, m + r + dof))
    A[np.arange(m), np.arange(m)] = flexibilities / unit
    A[: m + r, m + r :] = E.T
    A[m + r :, : m + r] = E
    b = np.concatenate([np.zeros(m), structure.held_settlements / unit, -structure.loads.ravel()])
    x = np.linalg.solve(A, b)
    return x[: m + r], (x[m + r :] * unit).reshape(structure.coordinates.shape)


def _refuse_unknown_stiffness(structure: Structure) -> None:
    unknown = np.isnan(structure.axial_stiffness)
    names = [name for name, missing in zip(structure.member_names, unknown, strict=True) if missing]
    if names:
        raise StiffnessMissing(
            "the truss is redundant: how the load is shared depends on how stiff each member is. "
            f"Give an area and a modulus for {', '.join(names)}"
        )
