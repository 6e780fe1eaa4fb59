"""How rare it is what two works share: evidence in bits.

What counts as a copy?  Two works of different students that share so many *choices* that students who
work alone would hardly ever share them.  A choice is a number that nothing else in the work tells: a
height of its own, a joint off the equal panels, an odd last digit, a web that follows no pattern.
What counts as a common solution?  A work that makes few such choices.  Equal panels, level chords and
round numbers follow from the brief, the pattern and the graph paper: everybody's plain Warren, Pratt
or Howe truss is described by one choice, its depth.  Two of them are alike, and nothing follows from it.

For each choice the evidence is the likelihood ratio, as a power of two, of 'the other is a copy, exact
or nudged' over 'the other was made alone':

*   a number that agrees exactly: how seldom a student alone would write it.  Most write tens of
    millimetres, some fives, few single ones, hardly any tenths (``ROUND``), somewhere within ``RANGE``;
*   a number that nearly agrees: the normal density of a nudge (``NUDGE`` of a member's length) over the even
    density of a free choice within ``RANGE``.

Joints that only one of the two has, and bars that only one has, count against (``JOINT_BITS``, ``BAR_BITS``).  The
same choice made at many joints counts once, and so does its mirror image; heights on one even bow are one
choice.  The largest choice of all is left out, because every truss has some depth.  Each of the two works is
taken in turn as the original, and the lesser evidence stands: next to a plain truss nothing is rare.

The bits are no odds to be quoted.  Choices are not quite independent, and how many works are compared, and how
often students copy, is not in them: they put pairs in order and leave out what proves nothing.

The principle is Good's weight of evidence (I. J. Good, Probability and the Weighing of Evidence, 1950; from
memory).  The numbers of the model are estimates of what students do, set on one generated corpus and
checked on others (tests/worker/likeness).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from worker.likeness.fingerprint import PARTS
from worker.likeness.match import Match, Overlay, Shape
from worker.statics.structure import Floats

ROUND = ((10.0, 0.70), (5.0, 0.20), (1.0, 0.08), (0.1, 0.02))
"""Steps in mm on which students put their numbers, and how many of them do."""

RANGE = 0.3
"""The part of the span within which a free number of a truss lies, in spans."""

NUDGE = 0.05
"""Standard deviation of a nudge, as a part of the usual member length."""

MADE = 0.5
"""Part of other works that hold a free number in such a place at all."""

EXACT = 1.2 / PARTS
"""Difference up to which two numbers are the same but for rounding, in spans."""

COPIED = 0.5
"""Part of copies that keep a number exactly; the other part nudge it."""

EXACT_PART = 1 / 3
"""So much of the numbers must agree to the last digit before any of that counts: where all were moved a
little, one or two agree by chance."""

MOST_OF_ONE = 4.5
"""What one number may tell at the most, in bits: several may have come of one formula, or of one word."""

JOINT_BITS, BAR_BITS, STAR_BITS = -3.0, -2.0, 2.5
"""For a joint or a bar that only one work has; for a joint whose bars leave it in a way of its own."""

PLAIN_STARS = 8
"""So many different joints have the usual patterns: ends, posts, diagonals either way, the middle."""


def evidence(match: Match) -> float:
    """Bits for 'a copy' against 'each made alone', of two works laid over each other."""
    against = JOINT_BITS * match.alone + BAR_BITS * match.only
    return against + min(_choices(match, first) for first in (True, False))


def most_bits(shape: Shape) -> float:
    """All that a work can share: its evidence with itself."""
    return evidence(Overlay(shape, shape).match())


def _choices(match: Match, first: bool) -> float:
    """Bits of what the two share, with the first of them, or the second, as the original."""
    if len(match.same) < 3:
        return 0.0
    mine, theirs = (match.one, match.other) if first else (match.other, match.one)
    rows, partners = (list(match.same), list(match.same.values()))[:: 1 if first else -1]
    places, others, reach = mine.places[rows], theirs.places[partners], match.reach
    panels = mine.panels
    xs, ys = places[:, 0], others[:, 0]
    if mine.symmetric:
        xs, ys, panels = np.abs(xs - 0.5), np.abs(ys - 0.5), np.abs(panels - 0.5)
    numbers = [
        *_numbers(xs, ys, panels, mine, reach),
        *_numbers(places[:, 1], others[:, 1], np.zeros(1), mine, reach)[: 1 if mine.bowed else None],
    ]
    same = sum(number.exactly for number in numbers) >= EXACT_PART * sum(number.different for number in numbers)
    bits = [max(number.shape, number.exact) if same else number.shape for number in numbers]
    return sum(bits) - max(bits, default=0.0) + STAR_BITS * max(0, _stars(match, first) - PLAIN_STARS)


@dataclass(frozen=True)
class Number:
    """One choice along one axis: what its agreement tells as a shape, and to the last digit."""

    shape: float
    exact: float
    exactly: int
    different: int


def _numbers(values: Floats, others: Floats, told: Floats, mine: Shape, reach: float) -> list[Number]:
    """The choices along one axis, the largest first; ``told`` are numbers that pattern and brief tell."""
    order = np.argsort(values, kind="stable")
    here, gaps = values[order].tolist(), (others - values)[order].tolist()
    off = np.abs(told[:, None] - values[order]).min(axis=0).tolist()
    starts = [0, *(i for i in range(1, len(here)) if here[i] - here[i - 1] > reach / 2), len(here)]
    found = []
    for start, end in pairwise(starts):
        rows = range(start, end)
        middle = sum(here[start:end]) / len(rows)
        near = min(off[start:end]) < reach / 2 and float(np.abs(told - middle).min()) < reach / 2
        shape = 0.0 if near else _nudged(sum(gaps[start:end]) / len(rows), len(rows), mine.member)
        untold = _different([here[row] for row in rows if off[row] > EXACT])
        exact = _different([here[row] for row in rows if off[row] > EXACT and abs(gaps[row]) <= EXACT])
        bits = sum(_exactly(value * mine.span_mm, mine.span_mm) for value in exact)
        found.append(Number(shape, bits, len(exact), len(untold)))
    return found[::-1]


def _different(values: Sequence[float]) -> list[float]:
    """Rising numbers without those that are the same again."""
    return [value for i, value in enumerate(values) if not i or value - values[i - 1] > EXACT]


def _nudged(gap: float, joints: int, member: float) -> float:
    """Bits of one number that nearly agrees, a mean over ``joints`` joints."""
    spread = NUDGE * member / math.sqrt(min(joints, 4))
    density = math.exp(-0.5 * (gap / spread) ** 2) / (spread * math.sqrt(2 * math.pi))
    return math.log2((1 - COPIED) * density * RANGE / MADE + 1 / 64)


def _exactly(mm: float, span_mm: float) -> float:
    """Bits of one number that agrees to the last digit: how seldom a student working alone would write it."""
    step, part = next((found for found in ROUND if _on(mm, found[0], span_mm)), ROUND[-1])
    return min(math.log2(COPIED * RANGE * span_mm / (part * step)), MOST_OF_ONE)


def _on(mm: float, step: float, span_mm: float) -> bool:
    return abs(mm - step * round(mm / step)) <= EXACT * span_mm


def _stars(match: Match, first: bool) -> int:
    """How many different ways the common bars leave joints, a way and its mirror image counted once."""
    if first:
        places, bars = match.one.places, match.common
    else:
        places = match.other.places
        bars = frozenset((match.same[p], match.same[q]) for p, q in match.common)
    ways: dict[int, set[int]] = {}
    for p, q in bars:
        dx, dy = places[q] - places[p]
        sector = round(math.atan2(dy, dx) / (math.pi / 4)) % 8
        ways.setdefault(p, set()).add(sector)
        ways.setdefault(q, set()).add((sector + 4) % 8)
    return len({min(tuple(sorted(way)), tuple(sorted((4 - s) % 8 for s in way))) for way in ways.values()})
