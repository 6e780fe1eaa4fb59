"""From a truss to its solution: rank first, then forces and movements, then the checks."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from worker.statics import cautions, determinate, mechanisms, redundant
from worker.statics.equilibrium import Rigidity, equilibrium_matrix, rigidity
from worker.statics.form import form
from worker.statics.solution import Solution
from worker.statics.structure import Floats, Structure
from worker.truss.model import Truss, Vector

NOISE = 1e-12
"""Below this part of the largest number of its kind, a result is rounding noise."""


def solve(truss: Truss) -> Solution:
    """Solve a truss: N and mm, tension positive; names and their order as in ``truss``.

    Raises StiffnessMissing for a redundant truss with a member of unknown stiffness, and
    ValueError for a truss that contradicts itself (see Structure.of).
    """
    structure = Structure.of(truss)
    E = equilibrium_matrix(structure)
    found = rigidity(E)
    if found.mechanisms:
        return _mechanism(truss, structure, E, found)
    return _stable(truss, structure, E, found)


def mechanisms_of(truss: Truss) -> int:
    """How many mechanisms a truss has; its stiffness and loads do not matter."""
    return rigidity(equilibrium_matrix(Structure.of(truss))).mechanisms


def residual(structure: Structure, E: Floats, q: Floats) -> float:
    """Largest force out of balance at any joint, reactions included, over the largest force."""
    largest = _largest_force(structure, q)
    out_of_balance = E @ q + structure.loads.ravel()
    return float(np.abs(out_of_balance).max(initial=0.0)) / largest if largest else 0.0


def _stable(truss: Truss, structure: Structure, E: Floats, found: Rigidity) -> Solution:
    u: Floats | None
    if found.self_stress:
        q, u = redundant.forces_and_displacements(structure, E)
    else:
        q = determinate.forces(structure, E)
        u = determinate.displacements(structure, E, q)
    largest = _largest_force(structure, q)
    q = _without_noise(q, largest)
    m = len(structure.member_names)
    reactions = np.zeros_like(structure.loads)
    np.add.at(reactions, structure.held_joints, q[m:, None] * structure.held_directions)
    reactions = _without_noise(reactions, largest)
    force = dict(zip(structure.member_names, q[:m].tolist(), strict=True))
    left_over = residual(structure, E, q)
    return Solution(
        state="stable",
        degree=found.self_stress,
        mechanisms=0,
        moving=(),
        motions=(),
        forces={member.name: force[member.name] for member in truss.members},
        reactions=_by_joint(truss.supports, structure, reactions),
        displacements=None
        if u is None
        else _by_joint(truss.joints, structure, _without_noise(u, float(np.abs(u).max(initial=0.0)))),
        residual=left_over,
        condition=found.condition,
        warnings=cautions.stable(structure, E, found, left_over),
    )


def _mechanism(truss: Truss, structure: Structure, E: Floats, found: Rigidity) -> Solution:
    each = mechanisms.modes(structure, E, found.rank)
    why = form(structure, found)
    moving = {structure.joint_names[row] for row in mechanisms.moving(each)}
    return Solution(
        state="mechanism",
        degree=found.self_stress,
        mechanisms=found.mechanisms,
        moving=tuple(joint for joint in truss.joints if joint in moving),
        motions=tuple(_by_joint(truss.joints, structure, motion) for motion in each),
        forces={},
        reactions={},
        displacements=None,
        residual=0.0,
        condition=found.condition,
        warnings=cautions.mechanism(structure, E, why),
        form=why.kind,
        missing_bars=why.missing_bars,
        critical=why.critical,
    )


def _largest_force(structure: Structure, q: Floats) -> float:
    return max(float(np.abs(q).max(initial=0.0)), float(np.abs(structure.loads).max(initial=0.0)))


def _without_noise(values: Floats, largest: float) -> Floats:
    """Exactly 0.0, and never -0.0, for whatever is below NOISE times ``largest``."""
    return np.where(np.abs(values) <= NOISE * largest, 0.0, values)


def _by_joint(wanted: Iterable[str], structure: Structure, vectors: Floats) -> dict[str, Vector]:
    """The vectors of the wanted joints, in their order."""
    vector = dict(zip(structure.joint_names, map(tuple, vectors.tolist()), strict=True))
    return {joint: vector[joint] for joint in wanted}
