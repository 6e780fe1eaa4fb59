"""The student's own working, compared as a teacher would.

sheet (what is to be worked out, and what was written) -> reading (each answer beside the truth)
-> balance (the equations of equilibrium) -> follow (what follows from an earlier slip) -> sentences -> compare.
"""

from worker.working.compare import by_hand, compare

__all__ = ["by_hand", "compare"]
