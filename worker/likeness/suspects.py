"""Which works of different students are alike in what is rare about them."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rubric.messages.likeness import MOST_PAIRS, Pair, Shared, Work
from rubric.messages.orders import CompareOrder
from rubric.messages.outcomes import Compared
from worker.likeness.match import Shape, best
from worker.likeness.rarity import JOINT_BITS, evidence, most_bits
from worker.statics.structure import Floats

LEAST_BITS = 5.0
"""Evidence from which a pair is listed.  The count of choices is on the safe side: see the figures of the test."""

LEAST_LIKENESS = 0.5

SHARED_BY, SHARED_PART = 5, 0.25
"""So many students of a class, and so much of it, must be alike to count as a solution that the class shares."""

CELL, ROWS, COLUMNS = 0.05, 16, 24
"""Where joints lie, roughly: cells of the span, wide enough for every bridge; what lies outside counts at the edge."""

ROUGHLY = 0.75
"""Rough likeness below which two works are not looked at closely."""


def suspects(works: Sequence[Work], about: int | None = None) -> tuple[Pair, ...]:
    """Pairs that a teacher should look at, the strongest evidence first.

    Never compares a student with himself; of several attempts of the same two students only the strongest
    pair is kept.  Pairs within one class that :func:`shared` tells of are left out.

    Parameters
    ----------
    about
        The group that is asked about: only pairs with a work of it are told.  None: all.
    """
    pairs = alike(works, about)
    return beyond(pairs, shared(works, pairs))


def compare(order: CompareOrder) -> Compared:
    """The answer to an order."""
    pairs = alike(order.works, order.about)
    together = shared(order.works, pairs)
    told = beyond(pairs, together)
    return Compared(
        job=order.job,
        attempt=order.attempt,
        works=len(order.works),
        pairs=told[:MOST_PAIRS],
        left_out=max(0, len(told) - MOST_PAIRS),
        shared=together[:MOST_PAIRS],
    )


def alike(works: Sequence[Work], about: int | None = None) -> tuple[Pair, ...]:
    """All such pairs, also those that a whole class shares."""
    weighed = [_Weighed.of(work) for work in works]
    rare = [work for work in weighed if work.most_bits >= LEAST_BITS]
    asked = [about is None or one.work.group == about for one in rare]
    strongest: dict[tuple[int, int], Pair] = {}
    for i, j in _alike_roughly([one.shape for one in rare], asked):
        pair = _pair(rare[i], rare[j]) if i < j else _pair(rare[j], rare[i])
        students = sorted((rare[i].work.student, rare[j].work.student))
        key = students[0], students[1]
        if pair is not None and (key not in strongest or pair.bits > strongest[key].bits):
            strongest[key] = pair
    return tuple(sorted(strongest.values(), key=lambda pair: (-pair.bits, pair.one, pair.other)))


def shared(works: Sequence[Work], pairs: Sequence[Pair]) -> tuple[Shared, ...]:
    """What so many of one class have that it was rather shown to them: a solution common to the class."""
    group = {work.submission: work.group for work in works}
    student = {work.submission: work.student for work in works}
    sizes = Counter(group for group, _ in {(work.group, work.student) for work in works})
    beside: dict[int, set[int]] = defaultdict(set)
    for pair in pairs:
        if group[pair.one] == group[pair.other]:
            beside[pair.one].add(pair.other)
            beside[pair.other].add(pair.one)
    found = []
    while beside:
        together = _reached(beside, min(beside))
        students = {student[submission] for submission in together}
        if len(students) >= max(SHARED_BY, SHARED_PART * sizes[group[min(together)]]):
            found.append(Shared(submissions=tuple(sorted(together))))
        for submission in together:
            del beside[submission]
    return tuple(found)


@dataclass(frozen=True, eq=False)
class _Weighed:
    """A work, its arrays, and the most that it can share."""

    work: Work
    shape: Shape
    most_bits: float

    @classmethod
    def of(cls, work: Work) -> _Weighed:
        shape = Shape.of(work.fingerprint)
        return cls(work, shape, most_bits(shape))


def beyond(pairs: Sequence[Pair], groups: Sequence[Shared]) -> tuple[Pair, ...]:
    """The pairs that lie in none of the groups."""
    known = [set(group.submissions) for group in groups]
    return tuple(pair for pair in pairs if not any({pair.one, pair.other} <= group for group in known))


def _pair(one: _Weighed, other: _Weighed) -> Pair | None:
    if one.work.student == other.work.student:
        return None
    overlay = best(one.shape, other.shape)
    if min(one.most_bits, other.most_bits) + JOINT_BITS * overlay.alone < LEAST_BITS:
        return None
    match = overlay.match()
    bits = evidence(match)
    if bits < LEAST_BITS or match.likeness < LEAST_LIKENESS:
        return None
    return Pair(
        one=one.work.submission,
        other=other.work.submission,
        likeness=round(match.likeness, 4),
        bits=round(bits, 1),
        turned=match.other is other.shape.mirrored,
    )


def _reached(beside: Mapping[int, set[int]], start: int) -> set[int]:
    """All that hang together with one submission."""
    reached, fresh = {start}, [start]
    while fresh:
        fresh = [near for here in fresh for near in beside[here] if near not in reached]
        reached |= set(fresh)
    return reached


def _alike_roughly(shapes: Sequence[Shape], asked: Sequence[bool]) -> list[tuple[int, int]]:
    """Pairs of rows, one of them ``asked``, whose joints lie roughly in the same places, either way round."""
    if not shapes:
        return []
    plain = np.array([_where(shape.places) for shape in shapes])
    turned = np.array([_where(shape.mirrored.places) for shape in shapes])
    found: list[tuple[int, int]] = []
    for i in np.flatnonzero(asked).tolist():
        rough = np.maximum(plain @ plain[i], turned @ plain[i])
        found += [(i, j) for j in np.flatnonzero(rough >= ROUGHLY).tolist() if i < j or not asked[j]]
    return found


def _where(places: Floats) -> Floats:
    """How many joints lie in and beside each cell, as a vector of length 1."""
    column = np.clip((places[:, 0] / CELL).round().astype(int) + 2, 0, COLUMNS - 1)
    row = np.clip((places[:, 1] / CELL).round().astype(int) + ROWS // 2, 0, ROWS - 1)
    cells = np.zeros((ROWS + 2, COLUMNS + 2))
    for dy, dx, weight in _SPREAD:
        np.add.at(cells, (row + 1 + dy, column + 1 + dx), weight)
    vector = cells.ravel()
    size = float(np.linalg.norm(vector))
    return vector / size if size else vector


_SPREAD = [(dy, dx, (1.0, 0.5, 0.25)[abs(dy) + abs(dx)]) for dy in (-1, 0, 1) for dx in (-1, 0, 1)]
