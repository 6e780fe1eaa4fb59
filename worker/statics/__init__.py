"""Statics of pin-jointed trusses: from a Truss to its Solution.

structure (arrays) -> equilibrium (rank) -> mechanisms, determinate or redundant -> solver (Solution).

Beside it: form (why a truss moves), selfstress (redundant members), loading (loads that travel,
self-weight, warming), batch (many loads or stiffnesses in one pass).
"""

from worker.statics.batch import Moves, forces_for_loads, forces_for_stiffness
from worker.statics.loading import Extreme, Travelling, self_weight, travelling, warming, with_loads
from worker.statics.redundant import StiffnessMissing
from worker.statics.selfstress import SelfStress, redundant_members, self_stresses
from worker.statics.solution import Solution
from worker.statics.solver import mechanisms_of, solve

__all__ = [
    "Extreme",
    "Moves",
    "SelfStress",
    "Solution",
    "StiffnessMissing",
    "Travelling",
    "forces_for_loads",
    "forces_for_stiffness",
    "mechanisms_of",
    "redundant_members",
    "self_stresses",
    "self_weight",
    "solve",
    "travelling",
    "warming",
    "with_loads",
]
