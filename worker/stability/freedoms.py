"""The movements that the supports leave free."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from worker.statics import redundant
from worker.statics.structure import Floats, Indices, Structure
from worker.truss.model import Vector


@dataclass(frozen=True, eq=False)
class Freedoms:
    """What the supports leave free, joint by joint.

    directions: (n, d, d) for each joint an orthonormal set, in columns
    columns:    (n, d) which free movement, 0 to count - 1, each direction is; ``count`` where it is held
    """

    directions: Floats
    columns: Indices
    count: int


def freedoms(structure: Structure) -> Freedoms:
    """A held direction at any angle is left out exactly: its joint keeps the directions square to it."""
    n, d = structure.coordinates.shape
    directions, free = np.tile(np.eye(d), (n, 1, 1)), np.ones((n, d), dtype=bool)
    for joint in np.unique(structure.held_joints):
        held = structure.held_directions[structure.held_joints == joint]
        directions[joint], _ = np.linalg.qr(held.T, mode="complete")
        free[joint, : len(held)] = False
    count = int(free.sum())
    columns = np.full((n, d), count, dtype=np.intp)
    columns[free] = np.arange(count)
    return Freedoms(directions, columns, count)


def free_directions(structure: Structure) -> Floats:
    """Z of shape (n d, f) with orthonormal columns: every movement the supports allow is ``Z @ z``."""
    found = freedoms(structure)
    n, d = structure.coordinates.shape
    Z = np.zeros((n, d, found.count + 1))
    for k in range(d):
        Z[np.arange(n)[:, None], np.arange(d), found.columns[:, k, None]] += found.directions[:, :, k]
    return Z[:, :, : found.count].reshape(n * d, found.count)


def relative(structure: Structure, Z: Floats) -> Floats:
    """How far the second end of each member moves from the first, for each free movement; (m, d, f)."""
    n, d = structure.coordinates.shape
    moved = Z.reshape(n, d, -1)
    apart: Floats = moved[structure.ends[:, 1]] - moved[structure.ends[:, 0]]
    return apart


def refuse_unknown_stiffness(structure: Structure) -> None:
    """Raises StiffnessMissing, naming the members without area or modulus."""
    redundant.refuse_unknown_stiffness(structure, "how a truss gives way as a whole")


def by_joint(joints: Mapping[str, Vector], structure: Structure, u: Floats) -> dict[str, Vector]:
    """Movements u of shape (n d,) by joint, in the order of the truss."""
    vector = dict(zip(structure.joint_names, map(tuple, u.reshape(len(joints), -1).tolist()), strict=True))
    return {joint: vector[joint] for joint in joints}


def to_unit(u: Floats, d: int) -> Floats:
    """The same movement, the largest of any joint 1."""
    largest = float(np.sqrt((u.reshape(-1, d) ** 2).sum(axis=1)).max(initial=0.0))
    return u / largest if largest else u
