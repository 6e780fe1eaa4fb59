"""A plane frame of straight beams that meet in rigid joints, by the stiffness method.

Euler-Bernoulli beams of constant section, small movements, loads at the joints alone.
Source: W. McGuire, R. H. Gallagher, R. D. Ziemian, "Matrix Structural Analysis" (2nd ed., 2000), chapter 4.
Limits: shear is left out, which matters for members shorter than about ten depths of wood (common practice).
"""

from __future__ import annotations

from collections.abc import Collection

import numpy as np

from worker.stability.freedoms import free_directions
from worker.statics.solver import NOISE
from worker.statics.structure import Floats, Structure

SINGULAR = 1e-14
"""A pivot this small, every diagonal element being 1, means that the frame can move without bending."""


def stretches_and_turns(structure: Structure) -> Floats:
    """G of shape (m, 3, 3 n): stretch in mm, and how far each end turns against the chord in radians.

    Movements of a joint are x and y in mm and its rotation in radians, anticlockwise.
    """
    n, m = len(structure.joint_names), len(structure.ends)
    c = structure.spans / structure.lengths[:, None]
    across = np.stack([-c[:, 1], c[:, 0]], axis=1)
    G = np.zeros((m, 3, n, 3))
    each, (start, end) = np.arange(m), structure.ends.T
    G[each, 0, end, :2] = c
    G[each, 0, start, :2] = -c
    for row in (1, 2):
        G[each, row, end, :2] = -across / structure.lengths[:, None]
        G[each, row, start, :2] = across / structure.lengths[:, None]
    G[each, 1, start, 2] = 1.0
    G[each, 2, end, 2] = 1.0
    return G.reshape(m, 3, 3 * n)


def beams(structure: Structure, EI: Floats) -> Floats:
    """(m, 3, 3): from stretch and turns of each member to its axial force N and end moments N mm.

    N = EA / L e;  M1 = EI / L (4 t1 + 2 t2);  M2 = EI / L (2 t1 + 4 t2).
    """
    k = np.zeros((len(EI), 3, 3))
    k[:, 0, 0] = structure.axial_stiffness / structure.lengths
    bending = EI / structure.lengths
    k[:, 1, 1] = k[:, 2, 2] = 4 * bending
    k[:, 1, 2] = k[:, 2, 1] = 2 * bending
    return k


def freedoms(structure: Structure, clamped: Collection[str]) -> Floats:
    """(3 n, f): the movements the supports leave free; joints turn freely unless ``clamped``."""
    n = len(structure.joint_names)
    Z = free_directions(structure)
    turning = [row for row, name in enumerate(structure.joint_names) if name not in clamped]
    free = np.zeros((n, 3, Z.shape[1] + len(turning)))
    free[:, :2, : Z.shape[1]] = Z.reshape(n, 2, -1)
    free[turning, 2, Z.shape[1] + np.arange(len(turning))] = 1.0
    return free.reshape(3 * n, -1)


def solved(structure: Structure, k: Floats, G: Floats, free: Floats) -> tuple[Floats, Floats]:
    """Movements of all joints, (3 n,), and what each member does at its ends, (m, 3): N, M1, M2.

    Loads, settlements and misfits act together.

    The stiffness matrix is scaled to a unit diagonal, so that thin members lose no digits.
    Raises ValueError where the frame can move without a member bending or stretching.
    """
    n = len(structure.joint_names)
    settled = np.zeros((n, 3))
    along = structure.held_settlements[:, None] * structure.held_directions
    np.add.at(settled[:, :2], structure.held_joints, along)
    loads = np.zeros((n, 3))
    loads[:, :2] = structure.loads
    u = settled.ravel()
    before = G @ u
    before[:, 0] -= structure.misfits
    if free.shape[1]:
        u = u + free @ _moved(k, G @ free, before, free.T @ loads.ravel())
    ends: Floats = (k @ (before + G @ (u - settled.ravel()))[:, :, None])[:, :, 0]
    return u, ends


def reactions(structure: Structure, G: Floats, ends: Floats) -> Floats:
    """(n, 2) N: what the supports must give, from what the members do at their ends (m, 3)."""
    pulls: Floats = np.einsum("mrf,mr->f", G, ends).reshape(-1, 3)[:, :2] - structure.loads
    given: Floats = np.zeros_like(pulls)
    along = (pulls[structure.held_joints] * structure.held_directions).sum(axis=1)
    np.add.at(given, structure.held_joints, along[:, None] * structure.held_directions)
    return np.where(np.abs(given) <= NOISE * np.abs(pulls).max(initial=0.0), 0.0, given)


def _moved(k: Floats, strains: Floats, before: Floats, loads: Floats) -> Floats:
    """(f,): the free movements, ``strains`` (m, 3, f) being what they do to the members."""
    flat = strains.reshape(-1, strains.shape[2])
    K = flat.T @ (k @ strains).reshape(flat.shape)
    force = loads - flat.T @ (k @ before[:, :, None]).ravel()
    size = np.sqrt(np.diag(K))
    if not (size > 0).all() or _pivot(K / np.outer(size, size)) <= SINGULAR:
        raise ValueError("the frame can move without bending: its supports do not hold it")
    return np.asarray(np.linalg.solve(K / np.outer(size, size), force / size) / size, dtype=np.float64)


def _pivot(K: Floats) -> float:
    """Smallest squared pivot of Cholesky's factor; 0 where there is none."""
    try:
        return float(np.diag(np.linalg.cholesky(K)).min() ** 2)
    except np.linalg.LinAlgError:
        return 0.0
