"""Ranking by efficiency.  Pure: the best attempts in, places out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rubric.ranking import as_shown, ranks
from service.records.queries import BoardLine

SHOWN = 10
"""Ranks that everybody of the class or contest sees; beyond it a place is private."""


@dataclass(frozen=True)
class Place:
    """One place of a board."""

    rank: int
    alias: str
    efficiency: float
    student_id: int
    submission_id: int


@dataclass(frozen=True)
class Standing:
    """Where one student stands."""

    place: Place
    of: int


def places(lines: Sequence[BoardLine]) -> list[Place]:
    """Rank the best attempts of students, best first."""
    found = ranks([line.efficiency for line in lines])
    return [
        Place(rank, line.alias, as_shown(line.efficiency), line.student_id, line.submission_id)
        for rank, line in zip(found, lines, strict=True)
    ]


def own_standing(lines: Sequence[BoardLine], student_id: int) -> Standing | None:
    """Where the student stands, or None while no attempt of theirs is on the board."""
    own = next((place for place in places(lines) if place.student_id == student_id), None)
    return Standing(own, len(lines)) if own else None
