"""How much strengths scatter, and the value that most sticks reach."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Literal

from rubric.woods import SCATTER

Distribution = Literal["lognormal", "normal"]


@dataclass(frozen=True)
class Scatter:
    """Coefficients of variation (standard deviation over mean), pure numbers; sources in ``rubric/woods.py``.

    ``tension`` stands for bending too, because the bending strength stands in for tension where
    that is not tabulated.
    """

    tension: float = SCATTER["tension"].cov
    compression: float = SCATTER["compression"].cov
    shear: float = SCATTER["shear"].cov
    modulus: float = SCATTER["modulus"].cov
    density: float = SCATTER["density"].cov
    glue: float = SCATTER["glue"].cov
    distribution: Distribution = "lognormal"


def at_fractile(mean: float, cov: float, fractile: float, distribution: Distribution = "lognormal") -> float:
    """The value below which the part ``fractile`` of all sticks stays, in the unit of ``mean``.

    Normal: m (1 + z V).  Lognormal: m exp(z s) / sqrt(1 + V^2) with s^2 = ln(1 + V^2), which never
    falls below nought (both in any text on structural reliability).  z is the fractile of the
    standard normal distribution, -1.645 for 5 %.

    Raises
    ------
    ValueError
        Where ``fractile`` is not between 0 and 1.
    """
    if not 0 < fractile < 1:
        raise ValueError(f"a fractile lies between 0 and 1, not at {fractile}")
    z, V = NormalDist().inv_cdf(fractile), cov
    if distribution == "normal":
        return mean * (1 + z * V)
    return mean * math.exp(z * math.sqrt(math.log1p(V**2))) / math.sqrt(1 + V**2)
