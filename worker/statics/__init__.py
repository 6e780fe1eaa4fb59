"""Statics of pin-jointed trusses: from a Truss to its Solution.

structure (arrays) -> equilibrium (rank) -> mechanisms, determinate or redundant -> solver (Solution).
"""

from worker.statics.batch import Moves, forces_for_loads, forces_for_stiffness
from worker.statics.redundant import StiffnessMissing
from worker.statics.solution import Solution
from worker.statics.solver import mechanisms_of, solve

__all__ = [
    "Moves",
    "Solution",
    "StiffnessMissing",
    "forces_for_loads",
    "forces_for_stiffness",
    "mechanisms_of",
    "solve",
]
