"""The equilibrium matrix, and what its rank says of a truss.

A count of members cannot tell a stable truss from a mechanism: one part may have a member too
few where another has one too many.  The rank of the equilibrium matrix can.  S. Pellegrino and
C. R. Calladine, "Matrix analysis of statically and kinematically indeterminate frameworks",
International Journal of Solids and Structures 22 (1986) 409-428.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from worker.statics.structure import Floats, Structure

RANK_TOLERANCE = 1e-9
"""A singular value below this part of the largest counts as zero.

The matrix holds direction cosines alone, so the test does not depend on size, load or stiffness.
Rounding leaves about 1e-15, and a truss of two hundred panels has about 1e-5: both are far away.
"""


@dataclass(frozen=True)
class Rigidity:
    """What the rank of the equilibrium matrix says.

    ``condition`` is the largest singular value over the smallest that is not zero (1 when there is none).
    """

    rank: int
    mechanisms: int
    self_stress: int
    condition: float


def equilibrium_matrix(structure: Structure) -> Floats:
    """E of shape (n d, m + r), dimensionless.

    Column by column: the forces on the joints from a unit tension in each member, then from a
    unit reaction in each held direction.  Equilibrium reads ``E @ q + loads == 0`` for
    q = [member forces, reactions].  By virtual work ``E.T @ u`` is minus the stretch of each
    member, then the movement in each held direction.
    """
    n, d = structure.coordinates.shape
    m, r = len(structure.ends), len(structure.held_joints)
    E = np.zeros((n, d, m + r))
    cosines = structure.spans / structure.lengths[:, None]
    member, held = np.arange(m), np.arange(m, m + r)
    E[structure.ends[:, 0], :, member] = cosines
    E[structure.ends[:, 1], :, member] = -cosines
    E[structure.held_joints, :, held] = structure.held_directions
    return E.reshape(n * d, m + r)


def rigidity(E: Floats) -> Rigidity:
    """Rank, mechanisms (dof - rank) and states of self-stress (columns - rank) of E."""
    return _rigidity(E.tobytes(), *E.shape)


@lru_cache(maxsize=8)
def _rigidity(cosines: bytes, dof: int, columns: int) -> Rigidity:
    """Kept, as many variations of a truss have the same shape; only a few, as a matrix may take megabytes."""
    E = np.frombuffer(cosines).reshape(dof, columns)
    values = np.linalg.svd(E, compute_uv=False) if E.size else np.zeros(0)
    rank = int(np.count_nonzero(values > RANK_TOLERANCE * values[0])) if len(values) else 0
    condition = float(values[0] / values[rank - 1]) if rank else 1.0
    return Rigidity(rank, dof - rank, columns - rank, condition)
