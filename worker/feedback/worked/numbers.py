"""Numbers of one sum, all to the same decimals, so that what is printed can be added up."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rubric.wording import localised

FIGURES = 4
"""Significant figures of the largest number of a sum."""

MINUS = "\N{MINUS SIGN}"


@dataclass(frozen=True)
class Decimals:
    """How many decimals the numbers of one sum have."""

    count: int

    @classmethod
    def of(cls, values: list[float]) -> Decimals:
        """So many that the largest of the values has FIGURES significant figures."""
        largest = max(map(abs, values), default=0.0)
        return cls(max(0, FIGURES - 1 - math.floor(math.log10(largest))) if largest > 0 else 0)

    def rounded(self, value: float) -> float:
        """As printed; never a minus nought."""
        return round(float(f"{value:.10g}"), self.count) + 0.0

    def said(self, value: float) -> str:
        """``37.57``, ``−46.96`` or ``0.00``."""
        text = localised(f"{abs(self.rounded(value)):.{self.count}f}")
        return f"{MINUS}{text}" if self.rounded(value) < 0 else text

    def signed(self, value: float) -> str:
        """``+37.57``, ``−46.96`` or ``0.00``."""
        return f"+{self.said(value)}" if self.rounded(value) > 0 else self.said(value)

    def total(self, values: list[float]) -> float:
        """Sum of the numbers as printed."""
        return self.rounded(sum(self.rounded(value) for value in values))


def angle_said(degrees: float) -> str:
    """Two decimals: a cosine is then good to one part in ten thousand."""
    return localised(f"{degrees:.2f}\N{DEGREE SIGN}")
