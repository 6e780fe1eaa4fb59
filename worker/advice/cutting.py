"""Can the design be cut from one kit?  The fewest sticks, the proof that fewer will not do, and how to saw each.

A saw takes ``kerf`` away at each cut: a stick of length L holds pieces w with sum(w + kerf) <= L + kerf.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rubric.brief import Brief
from worker.advice.patterns import Pattern, best_patterns
from worker.truss.model import Truss

STEP_MM = 0.01
"""Pieces and kerf are rounded up to this, so that sums are exact; nobody marks a stick finer."""

NOISE = 1e-6
"""In steps: what is above a whole step by less is rounding noise."""

Piece = tuple[str, float]


@dataclass(frozen=True)
class CutList:
    """How to cut all pieces: each stick a tuple of (name, mm), longest piece first.

    ``bound`` is proven: no layout needs fewer sticks.  ``optimal`` says that this layout needs no more; where it
    is False the search was ended before either was shown.  ``too_long`` lists pieces longer than a stick,
    which are in no stick and not counted in the bound.
    """

    sticks: tuple[tuple[Piece, ...], ...]
    bound: int
    optimal: bool
    too_long: tuple[Piece, ...] = ()

    def fits(self, count: int) -> bool | None:
        """Whether ``count`` sticks are enough; None where the search was ended before that was known."""
        if self.too_long or self.bound > count:
            return False
        return True if len(self.sticks) <= count else None


def cut_list(pieces: Mapping[str, float] | Iterable[Piece], stick_length_mm: float, kerf_mm: float = 0.0) -> CutList:
    """The fewest sticks of one length that all pieces, (name, mm), can be cut from.

    First-fit decreasing where a bound shows that it cannot be bettered, else the best mix of
    cutting patterns (see ``patterns``).  The same pieces in the same order always give the same layout.

    Raises
    ------
    ValueError
        For a length that is not above zero, or a kerf below zero.
    """
    given = list(pieces.items() if isinstance(pieces, Mapping) else pieces)
    if not all(mm > 0 for mm in (stick_length_mm, *(mm for _, mm in given))) or not kerf_mm >= 0:
        raise ValueError("lengths must be above zero, and the kerf zero or more")
    room, kerf = max(1, math.floor(stick_length_mm / STEP_MM + NOISE)), math.ceil(kerf_mm / STEP_MM - NOISE)
    wanting: dict[int, list[Piece]] = defaultdict(list)
    too_long = []
    for piece in given:
        if piece[1] > stick_length_mm + NOISE * STEP_MM:
            too_long.append(piece)
        else:  # a piece just as long as its stick fits, whatever rounding does to the two
            wanting[min(room, max(1, math.ceil(piece[1] / STEP_MM - NOISE))) + kerf].append(piece)
    if not wanting:
        return CutList((), 0, True, tuple(too_long))
    patterns, bound = best_patterns({size: len(wanting[size]) for size in sorted(wanting, reverse=True)}, room + kerf)
    sticks = tuple(_handed_out(pattern, wanting) for pattern in sorted(patterns, reverse=True))
    return CutList(sticks, bound, len(sticks) == bound, tuple(too_long))


def cut_lists(truss: Truss, brief: Brief, kerf_mm: float = 0.0, end_allowance_mm: float = 0.0) -> dict[str, CutList]:
    """The cut list of the whole bridge by kind of stick.

    All side trusses are cut, and every stick of a doubled member: a piece bears the name of its member, and
    stands in the list as often as it is cut.  A piece is as long as its member is from joint to joint, and
    ``end_allowance_mm`` more at either end.
    """
    pieces: dict[str, list[Piece]] = defaultdict(list)
    for member in brief.sides * truss.members:
        piece = (member.name, truss.length_mm(member) + 2 * end_allowance_mm)
        pieces[member.stick] += member.count * [piece]
    return {stick: cut_list(pieces[stick], brief.stock[stick].length_mm, kerf_mm) for stick in sorted(pieces)}


def _handed_out(pattern: Pattern, wanting: dict[int, list[Piece]]) -> tuple[Piece, ...]:
    """The pieces cut from one stick, taken from those still wanting in the order given."""
    return tuple(wanting[size].pop(0) for size in pattern)
