"""A redundant truss: more unknown forces than equations, so stretches must fit together too."""

from __future__ import annotations

import numpy as np

from worker.statics.structure import Floats, Structure


class StiffnessMissing(ValueError):
    """A redundant truss has members whose area or modulus is unknown."""


def forces_and_displacements(structure: Structure, E: Floats) -> tuple[Floats, Floats]:
    """q = [member forces, reactions] in N, (m + r,), and movements of the joints in mm, (n, d).

    Equilibrium and compatibility are solved together, with the flexibility f = L / (E A) of
    each member, what it is too long (the misfit g), and the settlement s in each held direction:

        [ f  E.T ] [ q ]   [ -g, s  ]
        [ E   0  ] [ u ] = [ -loads ]

    Eliminating the member forces would give the direct stiffness method; keeping them holds each
    support exactly, in any direction, and does not square the condition of E as a stiffness
    matrix does.  Raises StiffnessMissing.
    """
    x, unit = _solved(structure, E, structure.loads.reshape(-1, 1))
    columns = E.shape[1]
    return x[:columns, 0], (x[columns:, 0] * unit).reshape(structure.coordinates.shape)


def forces(structure: Structure, E: Floats, loads: Floats) -> Floats:
    """q (m + r, k) in N for k loads, (n d, k) in N, all from one factorisation.  Raises StiffnessMissing."""
    return _solved(structure, E, loads)[0][: E.shape[1]]


def _solved(structure: Structure, E: Floats, loads: Floats) -> tuple[Floats, float]:
    """[q, u / unit] for each column of loads, and the unit: the largest flexibility."""
    refuse_unknown_stiffness(structure, "the truss is redundant: how the load is shared")
    m, (dof, columns) = len(structure.ends), E.shape
    flexibilities = structure.lengths / structure.axial_stiffness
    unit = float(flexibilities.max(initial=0.0)) or 1.0  # then no element of A is above 1
    A = np.zeros((columns + dof, columns + dof))
    A[np.arange(m), np.arange(m)] = flexibilities / unit
    A[:columns, columns:] = E.T
    A[columns:, :columns] = E
    fixed = np.concatenate([-structure.misfits, structure.held_settlements]) / unit
    b = np.concatenate([np.repeat(fixed[:, None], loads.shape[1], axis=1), -loads])
    return np.linalg.solve(A, b), unit


def refuse_unknown_stiffness(structure: Structure, what: str) -> None:
    """Raises StiffnessMissing, naming the members without area or modulus; ``what`` depends on them."""
    unknown = np.isnan(structure.axial_stiffness)
    names = [name for name, missing in zip(structure.member_names, unknown, strict=True) if missing]
    if names:
        raise StiffnessMissing(
            f"{what} depends on how stiff each member is. Give an area and a modulus for {', '.join(names)}"
        )
