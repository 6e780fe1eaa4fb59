"""Ranks by efficiency, the same on every board."""

from __future__ import annotations

from collections.abc import Sequence


def as_shown(efficiency: float) -> float:
    """An efficiency as boards show and compare it: to one decimal."""
    return round(efficiency, 1)


def ranks(efficiencies: Sequence[float]) -> list[int]:
    """The rank of each, highest first.

    Who sees the same number has the same rank, and the next rank is left out.
    """
    shown = [as_shown(efficiency) for efficiency in efficiencies]
    return [1 + sum(other > mine for other in shown) for mine in shown]
