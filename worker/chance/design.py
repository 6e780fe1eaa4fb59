"""What is the same in every bridge of one design, and how one of them is tried."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce

import numpy as np

from rubric.brief import Brief
from worker import statics
from worker.chance.capacities import GLUED, PULLED, PUSHED, Factors, MeanCapacities, column
from worker.chance.likeness import PROPERTIES
from worker.chance.sampling import factors, own_normals, sticks
from worker.demand import Action, Demand, cases_of
from worker.statics.structure import Floats, Indices, axial_stiffness
from worker.strength.bridge import member_mass_g
from worker.strength.scatter import Scatter
from worker.strength.wood import Wood, wood
from worker.truss.model import Truss

LEAST_LEFT = 1e-9
"""Part of its capacity that self-weight leaves a member at the least, so that nothing is divided by nought."""


@dataclass(frozen=True, eq=False)
class Load:
    """What a load does to m members, (m, 1) each: force N, tension positive, and bending stress MPa (None: hinges)."""

    forces_N: Floats
    bending_MPa: Floats | None

    @classmethod
    def of(cls, action: Action, names: Sequence[str]) -> Load:
        """Of the named members."""
        return cls(column(action.forces_N, names), column(action.bending_MPa, names) if action.bending_MPa else None)


@dataclass(frozen=True, eq=False)
class Group:
    """Members that need the same ``properties`` of wood and glue; ``rows`` of ``truss.members``.

    ``loads`` are what the load of the most loaded side truss does with mean values, wherever it stands;
    ``own`` what is there before it.
    """

    rows: Indices
    properties: tuple[str, ...]
    loads: Sequence[Load]
    own: Load | None
    can: MeanCapacities

    def used(self, loads: Sequence[Load], drawn: Factors) -> Floats:
        """1 over the load factor at which each member fails, (m, n), as in ``worker/strength/bridge.py``."""
        return reduce(np.maximum, (self._used(load, drawn) for load in loads))

    def _used(self, load: Load, drawn: Factors) -> Floats:
        if load.bending_MPa is None:
            return self._share(load, self.can.sampled_N(load.forces_N, drawn), None)
        stick = self._share(load, self.can.wood_N(load.forces_N, drawn), self.can.bending_MPa * drawn["tension"])
        joints = self.can.joints
        return stick if joints is None else np.maximum(stick, self._share(load, joints.sampled_N(drawn), None))

    def _share(self, load: Load, can_N: Floats, bends_at_MPa: Floats | None) -> Floats:
        """Part of what is left beside the own weight that the load takes, (m, n)."""
        rate: Floats = np.abs(load.forces_N) / can_N
        if bends_at_MPa is not None and load.bending_MPa is not None:
            rate += load.bending_MPa / bends_at_MPa
        if self.own is None:
            return rate
        filled = np.sign(load.forces_N) * self.own.forces_N / can_N
        if bends_at_MPa is not None and self.own.bending_MPa is not None:
            filled += self.own.bending_MPa / bends_at_MPa
        return np.asarray(rate / np.maximum(1.0 - filled, LEAST_LEFT))


@dataclass(frozen=True, eq=False)
class Design:
    """A truss of a brief, and how its sticks scatter.

    ``cases``:   a redundant truss with hinges under the load at each of its places, whose forces follow
                 the stiffness of each sample; empty where forces do not
    ``shares``:  load of each side truss over that of the most loaded one
    ``wood_g``:  mass of each member of one side with mean density, (m,)
    ``between``: correlation between sticks
    """

    truss: Truss
    groups: Sequence[Group]
    cases: Sequence[Truss]
    shares: Sequence[float]
    wood_g: Floats
    ties_g: float
    scatter: Scatter
    between: float

    @classmethod
    def of(
        cls, truss: Truss, redundant: bool, demand: Demand, brief: Brief, scatter: Scatter, between: float
    ) -> Design:
        """Gather it; the truss must be stable, and ``demand`` that of its brief."""
        brief = _with_means(brief)
        mean = wood(brief.wood)
        most, others = brief.side_share, brief.sides - 1
        follows = redundant and brief.joints == "hinged"
        return cls(
            truss=truss,
            groups=_groups(truss, follows or brief.joints == "rigid", demand, brief, mean),
            cases=tuple(cases_of(truss, demand, brief)) if follows else (),
            shares=(1.0, *[(1.0 - most) / max(1, others) / most] * others),
            wood_g=np.array([member_mass_g(truss, member, brief, mean) for member in truss.members]),
            ties_g=brief.cross_members.mass_g if brief.cross_members else 0.0,
            scatter=scatter,
            between=between,
        )

    def tried(self, rng: np.random.Generator, common: Floats) -> tuple[Floats, Indices]:
        """1 over the load factor of the first failure, and the row of the member that fails: (n,) each."""
        used, rows = [], []
        for share in self.shares:
            for group in self.groups:
                drawn = sticks(rng, len(group.rows), group.properties, common, self.scatter, self.between)
                loads = [Load(self._forces_N(case, drawn["modulus"]), None) for case in self.cases] or group.loads
                used.append(group.used([_times(share, load) for load in loads], drawn))
                rows.append(group.rows)
        every = np.concatenate(used)
        first = every.argmax(axis=0)
        return every[first, np.arange(len(first))], np.concatenate(rows)[first]

    def masses_g(self, rng: np.random.Generator, common: Floats) -> Floats:
        """Mass of the bridge in each sample, (n,) g."""
        whole_g = len(self.shares) * float(self.wood_g.sum())
        return self.ties_g + whole_g * self._average(rng, common, "density", self.scatter.density)

    def stiffness(self, rng: np.random.Generator, common: Floats) -> Floats:
        """Modulus of the bridge's wood over its mean in each sample, (n,), each member weighing as its wood."""
        return self._average(rng, common, "modulus", self.scatter.modulus)

    def _average(self, rng: np.random.Generator, common: Floats, name: str, cov: float) -> Floats:
        """Average of a property over all sticks of the bridge, over its mean, (n,).

        The own parts of m sticks average out: of their share 1 - r of the variance
        there remains (1 - r) w, w = sum(mass^2) / sum(mass)^2, which is 1 / m for like sticks.
        """
        whole_g = len(self.shares) * float(self.wood_g.sum())
        w = len(self.shares) * float((self.wood_g**2).sum()) / whole_g**2 if whole_g else 0.0
        own = math.sqrt((1.0 - self.between) * w) * own_normals(rng, 1, common.shape[1])[0]
        z = math.sqrt(self.between) * common[PROPERTIES.index(name)] + own
        part = math.sqrt(self.between + (1.0 - self.between) * w)
        return factors(z / part, part * cov, self.scatter.distribution)

    def _forces_N(self, case: Truss, moduli: Floats) -> Floats:
        """Forces of all members, (m, n), with moduli (m, n) over their means."""
        mean_N = np.array([axial_stiffness(member) for member in case.members])
        return statics.forces_for_stiffness(case, moduli.T * mean_N).T


def _times(share: float, load: Load) -> Load:
    if share == 1.0:
        return load
    return Load(share * load.forces_N, None if load.bending_MPa is None else share * load.bending_MPa)


def _groups(truss: Truss, together: bool, demand: Demand, brief: Brief, mean: Wood) -> list[Group]:
    """Members that are only pulled, only pushed, and both as the load travels; idle ones are left out.

    ``together``: all in one group with all places of the load, where forces follow the stiffness or joints
    bend.  Elsewhere the largest and the least force of a member say all.
    """
    names = [member.name for member in truss.members]
    each = [Load.of(action, names) for action in demand.target.values()]
    high, low = (
        reduce(most, (load.forces_N for load in each), np.zeros((len(names), 1))) for most in (np.maximum, np.minimum)
    )
    pulls, pushes = Load(high, None), Load(low, None)
    all_rows = np.arange(len(names))
    parts = (
        [(all_rows, (*PULLED, *PUSHED), each)]
        if together
        else [
            (np.flatnonzero((high > 0) & (low == 0)), PULLED, [pulls]),
            (np.flatnonzero((high == 0) & (low < 0)), PUSHED, [pushes]),
            (np.flatnonzero((high > 0) & (low < 0)), (*PULLED, *PUSHED), [pulls, pushes]),
        ]
    )
    own = Load.of(demand.permanent, names) if demand.permanent else None
    glued = GLUED if brief.glue else ()
    return [
        Group(
            rows,
            (*needed, *glued),
            [_of_rows(load, rows) for load in loads],
            _of_rows(own, rows) if own else None,
            MeanCapacities.of(truss, [truss.members[row] for row in rows], brief, mean),
        )
        for rows, needed, loads in parts
        if len(rows)
    ]


def _of_rows(load: Load, rows: Indices) -> Load:
    return Load(load.forces_N[rows], None if load.bending_MPa is None else load.bending_MPa[rows])


def _with_means(brief: Brief) -> Brief:
    """The brief with strengths at their means: a fractile of a fractile would count the scatter twice."""
    return brief.model_copy(update={"wood": brief.wood.model_copy(update={"strength_level": "mean"})})
