"""The movements that the supports leave free."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from worker.statics.redundant import StiffnessMissing
from worker.statics.structure import Floats, Structure
from worker.truss.model import Vector


def free_directions(structure: Structure) -> Floats:
    """Z of shape (n d, f) with orthonormal columns: every movement the supports allow is ``Z @ z``.

    A held direction at any angle is left out exactly: its joint keeps the directions square to it.
    """
    n, d = structure.coordinates.shape
    held = np.zeros(n, dtype=bool)
    held[structure.held_joints] = True
    columns = [np.eye(n * d)[:, np.repeat(~held, d)]]
    for joint in np.flatnonzero(held):
        directions = structure.held_directions[structure.held_joints == joint]
        square, _ = np.linalg.qr(directions.T, mode="complete")
        left = np.zeros((n * d, d - len(directions)))
        left[joint * d : (joint + 1) * d] = square[:, len(directions) :]
        columns.append(left)
    return np.concatenate(columns, axis=1)


def relative(structure: Structure, Z: Floats) -> Floats:
    """How far the second end of each member moves from the first, for each free movement; (m, d, f)."""
    n, d = structure.coordinates.shape
    moved = Z.reshape(n, d, -1)
    apart: Floats = moved[structure.ends[:, 1]] - moved[structure.ends[:, 0]]
    return apart


def refuse_unknown_stiffness(structure: Structure) -> None:
    """Raises StiffnessMissing, naming the members without area or modulus."""
    unknown = np.isnan(structure.axial_stiffness)
    names = [name for name, missing in zip(structure.member_names, unknown, strict=True) if missing]
    if names:
        raise StiffnessMissing(
            "how a truss gives way as a whole depends on how stiff each member is. "
            f"Give an area and a modulus for {', '.join(names)}"
        )


def by_joint(joints: Mapping[str, Vector], structure: Structure, u: Floats) -> dict[str, Vector]:
    """Movements u of shape (n d,) by joint, in the order of the truss."""
    vector = dict(zip(structure.joint_names, map(tuple, u.reshape(len(joints), -1).tolist()), strict=True))
    return {joint: vector[joint] for joint in joints}


def to_unit(u: Floats, d: int) -> Floats:
    """The same movement, the largest of any joint 1."""
    largest = float(np.sqrt((u.reshape(-1, d) ** 2).sum(axis=1)).max(initial=0.0))
    return u / largest if largest else u
