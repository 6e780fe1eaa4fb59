"""One truss under many loads, or with many sets of stiffnesses, in one vectorised pass.

In: the truss and an array with a row for each variation.  Out: an array of member forces in N,
tension positive, with the members in the order of ``truss.members``.
"""

from __future__ import annotations

import numpy as np

from worker.statics import redundant
from worker.statics.equilibrium import equilibrium_matrix, rigidity
from worker.statics.selfstress import basis
from worker.statics.structure import Floats, Indices, Structure
from worker.truss.model import Truss

AT_ONCE = 4_000_000
"""Numbers held at once while compatibility is solved: bounds the memory, not the result."""


class Moves(ValueError):
    """The truss is a mechanism, so its forces cannot be found."""


def forces_for_loads(truss: Truss, loads: Floats) -> Floats:
    """Member forces (k, m) in N for ``loads`` (k, n, d) in N, joints in the order of ``truss.joints``.

    The settlements and misfits of the truss act beside each of the loads; its own loads do not.
    The matrix is factorised once for all.  Raises Moves, StiffnessMissing, and ValueError for
    an array of another shape.
    """
    structure = Structure.of(truss)
    E = _stable_matrix(structure)
    count = len(loads)
    _refuse_shape("loads", loads, (count, *structure.coordinates.shape))
    columns = loads[:, _rows(tuple(truss.joints), structure.joint_names)].reshape(count, E.shape[0]).T
    q = redundant.forces(structure, E, columns) if E.shape[1] > E.shape[0] else np.linalg.solve(E, -columns)
    return np.ascontiguousarray(q[_rows(structure.member_names, _names(truss))].T)


def forces_for_stiffness(truss: Truss, stiffness: Floats) -> Floats:
    """Member forces (k, m) in N under the loads of the truss for ``stiffness`` (k, m): EA of each member in N.

    Members stand in the order of ``truss.members``.  The force method: with one solution q0 of
    equilibrium and the states of self-stress S, the forces are q0 + S x, and x is such that the
    stretches, misfits and settlements do no work in any state of self-stress:

        (S.T f S) x = S.T (s - g - f q0)

    f = L / (EA) of each member, 0 for a reaction.  S. P. Timoshenko and D. H. Young, Theory of
    Structures, chapter on statically indeterminate trusses (from memory), in matrix form.
    Raises Moves, and ValueError for an array of another shape or a stiffness that is not positive.
    """
    structure = Structure.of(truss)
    E = _stable_matrix(structure)
    m = len(structure.member_names)
    _refuse_shape("stiffness", stiffness, (len(stiffness), m))
    if not np.all((stiffness > 0) & np.isfinite(stiffness)):
        raise ValueError("every stiffness must be a positive number")
    q0, S = basis(E, structure.loads.ravel())
    q0, S, S_held = q0[:m], S[:m], S[m:]
    flexibilities = structure.lengths / stiffness[:, _rows(_names(truss), structure.member_names)]
    gap = S_held.T @ structure.held_settlements - S.T @ structure.misfits
    return (q0 + _redundants(flexibilities, q0, S, gap) @ S.T)[:, _rows(structure.member_names, _names(truss))]


def _redundants(flexibilities: Floats, q0: Floats, S: Floats, gap: Floats) -> Floats:
    """x of the force method, (k, s), from the flexibilities (k, m)."""
    m, s = S.shape
    if not s:
        return np.zeros((len(flexibilities), 0))
    # One product with these columns gives S.T f S and S.T f q0 of every row at once.
    columns = np.concatenate([S[:, :, None] * S[:, None, :], (S * q0[:, None])[:, :, None]], axis=2).reshape(m, -1)
    x = []
    for rows in np.array_split(flexibilities, 1 + len(flexibilities) * columns.shape[1] // AT_ONCE):
        both = (rows @ columns).reshape(-1, s, s + 1)
        x.append(np.linalg.solve(both[:, :, :s], (gap - both[:, :, s])[:, :, None])[:, :, 0])
    return np.concatenate(x)


def _stable_matrix(structure: Structure) -> Floats:
    E = equilibrium_matrix(structure)
    if rigidity(E).mechanisms:
        raise Moves("the truss is a mechanism: it moves under some load, and no forces hold it still")
    return E


def _names(truss: Truss) -> tuple[str, ...]:
    return tuple(member.name for member in truss.members)


def _rows(given: tuple[str, ...], wanted: tuple[str, ...]) -> Indices:
    """Where each of the wanted names stands among the given ones."""
    row = {name: index for index, name in enumerate(given)}
    return np.array([row[name] for name in wanted], dtype=np.intp)


def _refuse_shape(what: str, array: Floats, wanted: tuple[int, ...]) -> None:
    if array.shape != wanted:
        raise ValueError(f"{what} of shape {array.shape}; expected {wanted}")
