"""Ranks by efficiency, the same on every board, and places by any measure."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from typing import TypeVar

from rubric.evidence import Place
from rubric.measures import CATALOGUE
from rubric.wording import figure

K = TypeVar("K", bound=Hashable)


def as_shown(efficiency: float) -> float:
    """An efficiency as boards show and compare it: to one decimal."""
    return round(efficiency, 1)


def ranks(efficiencies: Sequence[float]) -> list[int]:
    """The rank of each, highest first.

    Who sees the same number has the same rank, and the next rank is left out.
    """
    shown = [as_shown(efficiency) for efficiency in efficiencies]
    return [1 + sum(other > mine for other in shown) for mine in shown]


def places(values: Mapping[K, float | None], measure: str) -> dict[K, Place]:
    """The place of each by ``measure``, the better first; whoever has no value has no place.

    Who is shown the same number shares a place, and the next place is left out.
    """
    shown = {key: _compared(measure, value) for key, value in values.items() if value is not None}
    return {
        key: Place(place=1 + sum(other > mine for other in shown.values()), of=len(shown))
        for key, mine in shown.items()
    }


def _compared(measure: str, value: float) -> float:
    """The value as it is shown, the greater the better."""
    shown = as_shown(value) if measure == "efficiency" else float(figure(value))
    return shown if CATALOGUE[measure].more_is_better else -shown
