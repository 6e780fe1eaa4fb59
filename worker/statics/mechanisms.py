"""How the joints of a mechanism move, and which joint of a stable truss moves most easily."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from worker.statics.sparse import ZERO, sparse
from worker.statics.structure import Floats, Indices, Structure

WITHIN = 1e-9
"""A rigid motion farther than this part of its size from every movement of the mechanism is none of them."""


def modes(structure: Structure, E: Floats, rank: int) -> Floats:
    """One small movement of all joints, (n, d), for each mechanism; the largest movement is 1.

    They span the left null space of E: no member stretches, nothing moves where it is held.
    Each is as sparse as it can be made, so that two mechanisms in different parts of a truss come
    out apart.  A part that can move as a rigid body does so: along x, along y, and turning
    about its middle or a support (anticlockwise), before any movement within it.  Shape (mechanisms, n, d).
    """
    n, d = structure.coordinates.shape
    left, _, _ = np.linalg.svd(E, full_matrices=True)
    rows = sparse(left[:, rank:].T)
    apart = [_rigid_first(rows[part], structure) for part in _parts(rows, d)]
    each: Floats = np.concatenate(apart).reshape(len(rows), n, d)
    largest = np.sqrt((each**2).sum(axis=2)).max(axis=1, initial=0.0)
    each = each / largest[:, None, None]
    each[np.abs(each) < ZERO] = 0.0
    return each


def moving(each: Floats) -> list[int]:
    """The joints, by row, that move in any of the modes."""
    return [int(joint) for joint in np.flatnonzero(np.any(each != 0.0, axis=(0, 2)))]


def softest(E: Floats, d: int) -> int:
    """The joint, by row, that moves most in the movement for which members stretch least."""
    left, _, _ = np.linalg.svd(E, full_matrices=True)
    return int(np.argmax((left[:, -1].reshape(-1, d) ** 2).sum(axis=1)))


def _parts(rows: Floats, d: int) -> list[Indices]:
    """The movements in groups, leftmost first: two that move the same joint belong together."""
    moved = np.any(rows.reshape(len(rows), -1, d) != 0.0, axis=2).astype(float)
    meets = moved @ moved.T > 0
    while np.any(wider := (meets.astype(float) @ meets > 0) & ~meets):
        meets |= wider
    first = np.argmax(meets, axis=1)
    parts = [np.flatnonzero(first == index) for index in np.unique(first)]
    return sorted(parts, key=lambda part: int(np.argmax(moved[part].any(axis=0))))


def _rigid_first(rows: Floats, structure: Structure) -> Floats:
    """The same movements (k, n d), rigid ones first where there are several and they can be rigid."""
    if len(rows) < 2:
        return rows
    moved = np.any(rows.reshape(len(rows), *structure.coordinates.shape) != 0.0, axis=(0, 2))
    basis = np.linalg.qr(rows.T)[0]
    rigid: list[Floats] = []
    known = np.zeros((rows.shape[1], 0))
    for motion in _rigid_motions(structure, moved):
        within = basis @ (basis.T @ motion)
        new = motion - known @ (known.T @ motion)
        size = WITHIN * np.linalg.norm(motion)
        if np.linalg.norm(motion - within) <= size < np.linalg.norm(new):
            rigid.append(motion)
            known = np.linalg.qr(np.array(rigid).T)[0]
    if not rigid or len(rigid) == len(rows):
        return np.array(rigid) if rigid else rows
    left, _, _ = np.linalg.svd(basis - known @ (known.T @ basis), full_matrices=False)
    return np.concatenate([np.array(rigid), sparse(left[:, : len(rows) - len(rigid)].T)])


def _rigid_motions(structure: Structure, moved: Floats) -> Iterator[Floats]:
    """The joints that move: along each axis, turning about their middle, then about each support; (n d,) each."""
    n, d = structure.coordinates.shape
    for axis in range(d):
        along = np.zeros((n, d))
        along[moved, axis] = 1.0
        yield along.ravel()
    middle = structure.coordinates[moved].mean(axis=0)
    for centre in [middle, *structure.coordinates[np.unique(structure.held_joints)]]:
        arm = np.where(moved[:, None], structure.coordinates - centre, 0.0)
        for one, other in [(0, 1)] if d == 2 else [(1, 2), (2, 0), (0, 1)]:
            about = np.zeros((n, d))
            about[:, one], about[:, other] = -arm[:, other], arm[:, one]
            yield about.ravel()
