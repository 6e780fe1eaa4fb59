"""States of self-stress: forces that hold each other in balance without any load.

A truss that is built with a member too long, or that warms unevenly, carries a mixture of them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from worker.statics.equilibrium import RANK_TOLERANCE, equilibrium_matrix
from worker.statics.sparse import sparse
from worker.statics.structure import Floats, Structure
from worker.truss.model import Truss, Vector


@dataclass(frozen=True)
class SelfStress:
    """One state of self-stress: the parts that are not zero.

    forces:    by member, tension positive; the largest part, member or reaction, is +1
    reactions: on the truss, by supported joint
    """

    forces: Mapping[str, float]
    reactions: Mapping[str, Vector]


def self_stresses(truss: Truss) -> tuple[SelfStress, ...]:
    """As many states as the truss is redundant, each with few members; none where it is determinate.

    A mechanism may have some too: another part of it, or a critical form.  Raises ValueError
    for a truss that contradicts itself.
    """
    structure = Structure.of(truss)
    return tuple(_named(truss, structure, row) for row in _rows(structure))


def redundant_members(truss: Truss) -> tuple[str, ...]:
    """Members any one of which could be taken out without a new mechanism, in the order of the truss.

    They are those with a force in some state of self-stress.  Taking out two of them may be too much.
    """
    structure = Structure.of(truss)
    stressed = np.any(_rows(structure) != 0.0, axis=0)
    names = {name for name, some in zip(structure.member_names, stressed, strict=False) if some}
    return tuple(member.name for member in truss.members if member.name in names)


def basis(E: Floats, loads: Floats) -> tuple[Floats, Floats]:
    """Every q with ``E @ q = -loads`` is q0 + S x: q0 (c,) of least length and S (c, s), orthonormal.

    For a stable truss; S has no column where it is statically determinate.
    """
    left, values, right, rank = _decomposed(E)
    q0 = -right[:rank].T @ ((left[:, :rank].T @ loads) / values[:rank])
    return q0, right[rank:].T


def _rows(structure: Structure) -> Floats:
    """The states (s, m + r): members, then held directions; that of the leftmost members first."""
    _, _, right, rank = _decomposed(equilibrium_matrix(structure))
    rows = sparse(right[rank:])
    return rows[np.argsort(np.argmax(rows != 0.0, axis=1), kind="stable")] if len(rows) else rows


def _decomposed(E: Floats) -> tuple[Floats, Floats, Floats, int]:
    left, values, right = np.linalg.svd(E, full_matrices=True)
    rank = int(np.count_nonzero(values > RANK_TOLERANCE * values.max(initial=0.0)))
    return left, values, right, rank


def _named(truss: Truss, structure: Structure, row: Floats) -> SelfStress:
    m, (n, d) = len(structure.member_names), structure.coordinates.shape
    force = dict(zip(structure.member_names, row[:m].tolist(), strict=True))
    reactions = np.zeros((n, d))
    np.add.at(reactions, structure.held_joints, row[m:, None] * structure.held_directions)
    reaction = dict(zip(structure.joint_names, map(tuple, reactions.tolist()), strict=True))
    return SelfStress(
        forces={member.name: force[member.name] for member in truss.members if force[member.name]},
        reactions={joint: reaction[joint] for joint in truss.supports if any(reaction[joint])},
    )
