"""The answer of statics to a truss."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from worker.statics.form import Kind
from worker.truss.model import Vector


@dataclass(frozen=True)
class Solution:
    """Forces, reactions and movements of a stable truss, or the movements of a mechanism.

    state:         ``stable`` or ``mechanism``
    degree:        states of self-stress: 0 for a statically determinate truss
    mechanisms:    independent movements without any member stretching
    moving:        the joints that move in any of them
    motions:       for each mechanism, every joint's movement; the largest is 1, the scale is free
    forces:        N by member, tension positive; empty for a mechanism
    reactions:     N on the truss by supported joint; empty for a mechanism
    displacements: mm by joint; None for a mechanism, or where a stiffness is unknown
    residual:      largest force out of balance at any joint over the largest force
    condition:     largest over smallest nonzero singular value of the equilibrium matrix
    warnings:      plain sentences
    form:          of a mechanism: ``missing bars``, or ``critical form`` where the bars are enough and yet it moves
    missing_bars:  how many of the mechanisms only more bars or supports can stop
    critical:      how many of the mechanisms other places of the joints would stop

    Numbers below 1e-12 of the largest of their kind are rounding noise, and given as 0.0.
    """

    state: Literal["stable", "mechanism"]
    degree: int
    mechanisms: int
    moving: tuple[str, ...]
    motions: tuple[Mapping[str, Vector], ...]
    forces: Mapping[str, float]
    reactions: Mapping[str, Vector]
    displacements: Mapping[str, Vector] | None
    residual: float
    condition: float
    warnings: tuple[str, ...]
    form: Kind = ""
    missing_bars: int = 0
    critical: int = 0
