"""Random numbers that are the same on every machine, and the values of wood and glue made from them.

What a bridge has in common is drawn by strata of equal chance, each once, in random order (Latin
hypercube: M. D. McKay, R. J. Beckman and W. J. Conover, Technometrics 21 (1979) 239-245): it moves
the failure load most, and the standard errors of its quantiles are a quarter smaller for it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from functools import cache
from statistics import NormalDist

import numpy as np

from worker.chance.likeness import PROPERTIES, WITHIN_A_STICK
from worker.statics.structure import Floats
from worker.strength.scatter import Distribution, Scatter

STEPS = 2**14
"""Own parts are drawn from so many normal quantiles, all equally likely: quick, with tails to 4.0 s."""

LEAST_FACTOR = 1e-6
"""Normal strengths may come out below nought, which no stick has; they are held at this part of the mean."""


def seed(data: bytes) -> int:
    """A seed from the content of a file: the first 8 bytes of its SHA-256.  Same bytes, same luck."""
    return int.from_bytes(hashlib.sha256(data).digest()[:8], "big")


def generator(number: int) -> np.random.Generator:
    """PCG64 by name, so that another default in NumPy would change nothing here."""
    return np.random.Generator(np.random.PCG64(number))


def common_parts(rng: np.random.Generator, samples: int) -> Floats:
    """(p, n) standard normal numbers, a row for each of PROPERTIES, correlated as WITHIN_A_STICK says."""
    drawn = rng.permuted(np.broadcast_to(_strata(samples), (len(PROPERTIES), samples)), axis=1)
    return np.asarray(np.linalg.cholesky(WITHIN_A_STICK) @ drawn)


def own_normals(rng: np.random.Generator, rows: int, columns: int) -> Floats:
    """(rows, columns) standard normal numbers, each one of STEPS quantiles, from 16 random bits a number."""
    words = rng.bit_generator.random_raw(-(-rows * columns // 4)).astype("<u8", copy=False)
    steps = words.view("<u2")[: rows * columns].reshape(rows, columns) >> 2
    drawn: Floats = _strata(STEPS)[steps]
    return drawn


def sticks(
    rng: np.random.Generator, count: int, names: Sequence[str], common: Floats, scatter: Scatter, between: float
) -> Mapping[str, Floats]:
    """Value over mean of the named PROPERTIES for ``count`` sticks of each bridge, (count, n) each.

    A part c that all sticks of a bridge have in common (``common``, (p, n)) and a part e of the
    stick's own: z = sqrt(r) c + sqrt(1 - r) e.  Property p of a stick and q of another are then
    correlated by r C[p, q], those of one stick by C[p, q], with C = WITHIN_A_STICK.
    """
    rows = [PROPERTIES.index(name) for name in names]
    samples = common.shape[1]
    L = np.linalg.cholesky(WITHIN_A_STICK[np.ix_(rows, rows)])
    z = (np.sqrt(1.0 - between) * L @ own_normals(rng, len(rows), count * samples)).reshape(-1, count, samples)
    z += np.sqrt(between) * common[rows, None]
    return {
        name: factors(row, getattr(scatter, name), scatter.distribution) for name, row in zip(names, z, strict=True)
    }


def factors(z: Floats, cov: float, distribution: Distribution) -> Floats:
    """Numbers of mean 1 and coefficient of variation V = ``cov`` from standard normal ones, which are lost.

    Lognormal: exp(s z - s^2 / 2) with s^2 = ln(1 + V^2), and correlations are those of the
    logarithms.  Normal: 1 + V z.  (Any text on structural reliability.)
    """
    if distribution == "normal":
        z *= cov
        z += 1.0
        return np.maximum(z, LEAST_FACTOR, out=z)
    s = np.sqrt(np.log1p(cov**2))
    z *= s
    z -= s**2 / 2
    return np.exp(z, out=z)


@cache
def _strata(count: int) -> Floats:
    """Normal quantiles in the middle of so many strata of equal chance, (count,), read-only."""
    at = NormalDist().inv_cdf
    strata = np.array([at((index + 0.5) / count) for index in range(count)])
    strata.flags.writeable = False
    return strata
