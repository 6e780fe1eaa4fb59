"""What each member can carry in each sample, from what it can carry with mean values."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubric.brief import Brief
from worker.statics.structure import Floats
from worker.strength.capacity import Capacity
from worker.strength.wood import Wood

Bools = NDArray[np.bool_]
Factors = Mapping[str, Floats]
"""Value over mean by property, (m, n) each."""

PULLED, PUSHED, GLUED = ("tension",), ("compression", "modulus"), ("shear", "glue")
"""The properties that a member needs: pulled, pushed, and glued at its ends."""


@dataclass(frozen=True, eq=False)
class MeanCapacities:
    """What m members can carry with mean values, (m, 1) each, N.

    ``slenderness`` is relative: (l / pi) sqrt(fc / E), at which 1 means that Euler's stress is the
    crushing stress.  ``glue_N`` and ``shear_N`` are what the joints carry until the glue fails,
    and until the wood beside it shears; None without glue.
    """

    tension_N: Floats
    crushing_N: Floats
    slenderness: Floats
    glue_N: Floats | None
    shear_N: Floats | None

    @classmethod
    def of(cls, each: Sequence[Capacity], brief: Brief, wood: Wood) -> MeanCapacities:
        """Gather what the members can carry; ``wood`` must hold mean values."""
        relative = math.sqrt(wood.compression_MPa / wood.modulus_MPa) / math.pi
        glue_N = shear_N = None
        if brief.glue is not None:
            laps_mm2 = _column([can.joint_N or 0.0 for can in each]) / min(brief.glue.strength_MPa, wood.shear_MPa)
            glue_N, shear_N = laps_mm2 * brief.glue.strength_MPa, laps_mm2 * wood.shear_MPa
        return cls(
            tension_N=_column([can.tension_N for can in each]),
            crushing_N=_column([can.crushing_N for can in each]),
            slenderness=_column([can.slenderness * relative for can in each]),
            glue_N=glue_N,
            shear_N=shear_N,
        )

    def sampled_N(self, forces_N: Floats, factors: Factors) -> Floats:
        """Capacity of each member in each sample, (m, n), under forces (m, 1) or (m, n), tension positive.

        ``factors`` holds PULLED where any force pulls, PUSHED where any pushes, GLUED with glue.
        """
        pulled = forces_N > 0
        if pulled.all():
            most_N = self._pulled_N(factors)
        elif not pulled.any():
            most_N = self._pushed_N(factors)
        else:
            most_N = np.where(pulled, self._pulled_N(factors), self._pushed_N(factors))
        if self.glue_N is None or self.shear_N is None:
            return most_N
        joints_N = np.minimum(self.glue_N * factors["glue"], self.shear_N * factors["shear"])
        return np.minimum(most_N, joints_N)

    def _pulled_N(self, factors: Factors) -> Floats:
        return self.tension_N * factors["tension"]

    def _pushed_N(self, factors: Factors) -> Floats:
        crushing = factors["compression"]
        square = self.slenderness**2 * (crushing / factors["modulus"])
        return self.crushing_N * crushing * column_factor(square)


def column_factor(square: Floats) -> Floats:
    """Buckling stress over crushing stress, of the square of the relative slenderness.

    The curve of ``worker/strength/columns.py`` in that variable: Euler's 1 / l^2 from l^2 = 2 on, below
    it Johnson's 1 - l^2 / 4.
    """
    return np.where(square >= 2.0, 1.0 / np.maximum(square, 2.0), 1.0 - square / 4)


def _column(values: Sequence[float]) -> Floats:
    return np.array(values, dtype=float).reshape(-1, 1)
