"""States of self-stress: forces that hold each other in balance without any load."""

from __future__ import annotations

import numpy as np

from worker.statics.equilibrium import RANK_TOLERANCE
from worker.statics.structure import Floats


def basis(E: Floats, loads: Floats) -> tuple[Floats, Floats]:
    """Every q with ``E @ q = -loads`` is q0 + S x: q0 (c,) of least length and S (c, s), orthonormal.

    For a stable truss; S has no column where it is statically determinate.
    """
    left, values, right = np.linalg.svd(E, full_matrices=True)
    rank = int(np.count_nonzero(values > RANK_TOLERANCE * values.max(initial=0.0)))
    q0 = -right[:rank].T @ ((left[:, :rank].T @ loads) / values[:rank])
    return q0, right[rank:].T
