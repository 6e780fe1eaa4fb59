"""What is the same in every bridge of one design, and how one of them is tried."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rubric.brief import Brief
from worker import statics
from worker.chance.capacities import GLUED, PULLED, PUSHED, MeanCapacities
from worker.chance.likeness import PROPERTIES
from worker.chance.sampling import factors, own_normals, sticks
from worker.statics import Solution
from worker.statics.structure import Floats, Indices, axial_stiffness
from worker.strength.bridge import member_mass_g
from worker.strength.scatter import Scatter
from worker.strength.wood import Wood, wood
from worker.truss.model import Truss


@dataclass(frozen=True, eq=False)
class Group:
    """Members that need the same ``properties`` of wood and glue; ``rows`` of ``truss.members``.

    ``forces_N``, (m, 1), are those with mean values, under the load of the most loaded side truss.
    """

    rows: Indices
    properties: tuple[str, ...]
    forces_N: Floats
    can: MeanCapacities


@dataclass(frozen=True, eq=False)
class Design:
    """A truss of a brief, and how its sticks scatter.

    ``shares``:  load of each side truss over that of the most loaded one
    ``wood_g``:  mass of each member of one side with mean density, (m,)
    ``between``: correlation between sticks
    """

    truss: Truss
    groups: Sequence[Group]
    redundant: bool
    shares: Sequence[float]
    wood_g: Floats
    ties_g: float
    scatter: Scatter
    between: float

    @classmethod
    def of(cls, truss: Truss, solution: Solution, brief: Brief, scatter: Scatter, between: float) -> Design:
        """Gather it; ``solution`` must be that of a stable truss under its target load."""
        brief = _with_means(brief)
        mean = wood(brief.wood)
        most, others = brief.side_share, brief.sides - 1
        return cls(
            truss=truss,
            groups=_groups(truss, solution, brief, mean),
            redundant=solution.degree > 0,
            shares=(1.0, *[(1.0 - most) / max(1, others) / most] * others),
            wood_g=np.array([member_mass_g(truss, member, brief, mean) for member in truss.members]),
            ties_g=brief.cross_members.mass_g if brief.cross_members else 0.0,
            scatter=scatter,
            between=between,
        )

    def tried(self, rng: np.random.Generator, common: Floats) -> tuple[Floats, Indices]:
        """Largest utilisation at the target load, and the row of the member that has it: (n,) each."""
        used, rows = [], []
        for share in self.shares:
            for group in self.groups:
                drawn = sticks(rng, len(group.rows), group.properties, common, self.scatter, self.between)
                forces_N = share * (self._forces_N(drawn["modulus"]) if self.redundant else group.forces_N)
                used.append(np.abs(forces_N) / group.can.sampled_N(forces_N, drawn))
                rows.append(group.rows)
        every = np.concatenate(used)
        first = every.argmax(axis=0)
        return every[first, np.arange(len(first))], np.concatenate(rows)[first]

    def masses_g(self, rng: np.random.Generator, common: Floats) -> Floats:
        """Mass of the bridge in each sample, (n,) g.

        The own parts of the density of m sticks average out: of their share 1 - r of the variance
        there remains (1 - r) w, w = sum(mass^2) / sum(mass)^2, which is 1 / m for like sticks.
        """
        whole_g = len(self.shares) * float(self.wood_g.sum())
        w = len(self.shares) * float((self.wood_g**2).sum()) / whole_g**2 if whole_g else 0.0
        own = math.sqrt((1.0 - self.between) * w) * own_normals(rng, 1, common.shape[1])[0]
        z = math.sqrt(self.between) * common[PROPERTIES.index("density")] + own
        part = math.sqrt(self.between + (1.0 - self.between) * w)
        scale = factors(z / part, part * self.scatter.density, self.scatter.distribution)
        return self.ties_g + whole_g * scale

    def _forces_N(self, moduli: Floats) -> Floats:
        """Forces of all members, (m, n), with moduli (m, n) over their means."""
        mean_N = np.array([axial_stiffness(member) for member in self.truss.members])
        return statics.forces_for_stiffness(self.truss, moduli.T * mean_N).T


def _groups(truss: Truss, solution: Solution, brief: Brief, mean: Wood) -> list[Group]:
    """Ties and struts of a determinate truss apart, and idle members left out; those of a redundant truss together.

    There a member may be pulled in one sample and pushed in another.
    """
    forces_N = np.array([[solution.forces[member.name]] for member in truss.members])
    parts = [(np.flatnonzero(forces_N > 0), PULLED), (np.flatnonzero(forces_N < 0), PUSHED)]
    if solution.degree:
        parts = [(np.arange(len(forces_N)), (*PULLED, *PUSHED))]
    glued = GLUED if brief.glue else ()
    return [
        Group(
            rows,
            (*needed, *glued),
            forces_N[rows],
            MeanCapacities.of(truss, [truss.members[row] for row in rows], brief, mean),
        )
        for rows, needed in parts
        if len(rows)
    ]


def _with_means(brief: Brief) -> Brief:
    """The brief with strengths at their means: a fractile of a fractile would count the scatter twice."""
    return brief.model_copy(update={"wood": brief.wood.model_copy(update={"strength_level": "mean"})})
