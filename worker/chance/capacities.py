"""What each member can carry in each sample, from what it can carry with mean values."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from rubric.brief import Brief
from worker.chance.columns import FACTORS
from worker.statics.structure import Floats
from worker.strength.capacity import capacity, joint_N
from worker.strength.wood import Wood
from worker.truss.model import Member, Truss

Factors = Mapping[str, Floats]
"""Value over mean by property, (m, n) each."""

PULLED, PUSHED, GLUED = ("tension",), ("compression", "modulus"), ("shear", "glue")
"""The properties that a member needs: pulled, pushed, and glued at its ends."""


@dataclass(frozen=True, eq=False)
class Joints:
    """What the glued ends of m members carry with mean values, (m, 1) each, N.

    ``glue_N`` until the glue fails, ``shear_N`` until the wood beside it shears, ``gusset_N`` until the
    plates tear (infinite without plates, which are not wood and do not scatter here).
    """

    glue_N: Floats
    shear_N: Floats
    gusset_N: Floats

    @classmethod
    def of(cls, members: Sequence[Member], brief: Brief, wood: Wood) -> Joints | None:
        """Each way of failing by itself: the others are made too strong to matter; None without glue."""
        if brief.glue is None:
            return None
        whole, never = brief.glue.gusset, replace(wood, shear_MPa=math.inf)
        tough = whole and whole.model_copy(update={"strength_MPa": math.inf})
        glue = brief.glue.model_copy(update={"gusset": tough})
        strong = glue.model_copy(update={"strength_MPa": math.inf})
        plates = strong.model_copy(update={"gusset": whole})
        return cls(
            glue_N=_column([joint_N(member, brief, glue, never) for member in members]),
            shear_N=_column([joint_N(member, brief, strong, wood) for member in members]),
            gusset_N=_column([joint_N(member, brief, plates, never) for member in members]),
        )

    def sampled_N(self, factors: Factors) -> Floats:
        """What they carry in each sample, (m, n)."""
        laps_N = np.minimum(self.glue_N * factors["glue"], self.shear_N * factors["shear"])
        return np.minimum(laps_N, self.gusset_N)


@dataclass(frozen=True, eq=False)
class MeanCapacities:
    """What m members can carry with mean values, (m, 1) each, N; the bending strength is the same for all.

    ``square`` is that of the relative slenderness, (l / pi)^2 fc / E, and ``curve`` the factor for it.
    """

    tension_N: Floats
    crushing_N: Floats
    bending_MPa: float
    square: Floats
    curve: Callable[[Floats], Floats]
    joints: Joints | None

    @classmethod
    def of(cls, truss: Truss, members: Sequence[Member], brief: Brief, wood: Wood) -> MeanCapacities:
        """Gather it; ``wood`` and the strength level of ``brief`` must be means."""
        each = [capacity(truss, member, brief, wood) for member in members]
        slenderness = _column([can.slenderness for can in each])
        return cls(
            tension_N=_column([can.tension_N for can in each]),
            crushing_N=_column([can.crushing_N for can in each]),
            bending_MPa=wood.bending_MPa,
            square=(slenderness / math.pi) ** 2 * wood.compression_MPa / wood.column_modulus_MPa,
            curve=FACTORS[brief.column_curve],
            joints=Joints.of(members, brief, wood),
        )

    def sampled_N(self, forces_N: Floats, factors: Factors) -> Floats:
        """Capacity of each member in each sample, (m, n), under forces (m, 1) or (m, n), tension positive.

        ``factors`` holds PULLED where any force pulls, PUSHED where any pushes, GLUED with glue.
        """
        most_N = self.wood_N(forces_N, factors)
        return most_N if self.joints is None else np.minimum(most_N, self.joints.sampled_N(factors))

    def wood_N(self, forces_N: Floats, factors: Factors) -> Floats:
        """``sampled_N`` of the sticks themselves, whatever their ends carry."""
        pulled = forces_N > 0
        if pulled.all():
            return self._pulled_N(factors)
        if not pulled.any():
            return self._pushed_N(factors)
        return np.where(pulled, self._pulled_N(factors), self._pushed_N(factors))

    def _pulled_N(self, factors: Factors) -> Floats:
        return self.tension_N * factors["tension"]

    def _pushed_N(self, factors: Factors) -> Floats:
        crushing = factors["compression"]
        return self.crushing_N * crushing * self.curve(self.square * (crushing / factors["modulus"]))


def column(values: Mapping[str, float], names: Sequence[str]) -> Floats:
    """(m, 1): the values of the named members."""
    return _column([values[name] for name in names])


def _column(values: Sequence[float]) -> Floats:
    return np.array(values, dtype=float).reshape(-1, 1)
