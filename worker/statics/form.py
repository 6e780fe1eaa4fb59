"""Why a truss moves: bars are missing, or the bars are enough and the form is critical.

The rank of the equilibrium matrix at random places of the joints is the largest that these
members and supports can have.  What is still missing there, only more bars (or supports) can give;
what only the true places lack is the fault of the form: a joint on the line between two others, reactions through
one point, a hexagon with its long diagonals.  H. Gluck, "Almost all simply connected closed surfaces are
rigid", Lecture Notes in Mathematics 438 (1975), shows that almost all places have the largest rank (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from worker.statics.equilibrium import Rigidity, equilibrium_matrix, rigidity
from worker.statics.structure import Structure

Kind = Literal["", "missing bars", "critical form"]

SHAKEN = 0.1
"""How far joints are moved, over the mean length of the members."""


@dataclass(frozen=True)
class Form:
    """Mechanisms that only more bars or supports can stop, and those that another form would stop."""

    missing_bars: int
    critical: int

    @property
    def kind(self) -> Kind:
        """The word for it: bars come first, because no form can stand in for them."""
        if self.missing_bars:
            return "missing bars"
        return "critical form" if self.critical else ""


def form(structure: Structure, found: Rigidity) -> Form:
    """Tell the mechanisms apart; deterministic, and the same for any order of the file."""
    if not found.mechanisms:
        return Form(0, 0)
    missing = rigidity(equilibrium_matrix(_shaken(structure))).mechanisms if found.self_stress else found.mechanisms
    return Form(missing, found.mechanisms - missing)


def _shaken(structure: Structure) -> Structure:
    """The same truss with its joints moved at random and the slopes of its supports turned at random."""
    chance = np.random.default_rng(0)
    n, d = structure.coordinates.shape
    size = SHAKEN * (structure.lengths.mean() if len(structure.lengths) else 1.0)
    turns = np.linalg.qr(np.eye(d) + SHAKEN * chance.uniform(-1, 1, (n, d, d)))[0]
    turned = turns[structure.held_joints] @ structure.held_directions[:, :, None]
    return replace(
        structure,
        coordinates=structure.coordinates + size * chance.uniform(-1, 1, (n, d)),
        held_directions=turned[:, :, 0],
    )
