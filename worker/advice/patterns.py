"""Cutting patterns: which sizes come from one stick, and the fewest sticks that cut a whole demand.

Sizes are whole numbers that already hold the kerf.  First-fit decreasing and a counted bound settle most demands.
Where they leave a gap, patterns are made as a linear programme asks for them, each by a knapsack (Gilmore and
Gomory, 1961, from memory): its prices prove a bound, and an integer programme chooses among the patterns made.
That choice is now and then one stick too many; where there are few enough possible patterns all of
them are tried then, and where there are more the answer is not called optimal.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from typing import Any

import numpy as np
from numpy.typing import NDArray

Demand = Mapping[int, int]
Pattern = tuple[int, ...]
"""Sizes cut from one stick, largest first."""

MOST_LISTED = 20_000
"""With so many patterns or fewer, all of them are tried."""

MOST_SIZES = 100
"""With more different sizes than this only first-fit decreasing and the counted bound answer."""

MOST_WORK = 1_000_000_000
"""Entries of knapsack tables, some seconds: then the search ends with what it has."""

NODES, SECONDS = 100, 10.0
"""Ends of the integer programme: the nodes keep answers alike on every machine, the seconds are a safety net."""

FILL = 1e-7
"""Price of a whole stick's length: sizes without a price of their own fill what is left."""

EXACT = 1e-6


def best_patterns(demand: Demand, capacity: int) -> tuple[list[Pattern], int]:
    """Patterns, one for each stick, that cut the demand {size: count}, and a proven lower bound on their number.

    Every size is from 1 to the capacity.
    """
    found, bound = first_fit(demand, capacity), counted_bound(demand, capacity)
    if len(found) > bound and len(demand) <= MOST_SIZES:
        known, found, bound = _generated(found, bound, demand, capacity)
        if len(found) > bound:
            found = min(found, _chosen(known, demand)[0] or found, key=len)
    if len(found) > bound and len(demand) <= MOST_SIZES:
        every = _every(demand, capacity)
        if every is not None:
            chosen, proven = _chosen(every, demand)
            found, bound = min(found, chosen or found, key=len), max(bound, proven)
    return found, bound


def first_fit(demand: Demand, capacity: int) -> list[Pattern]:
    """First-fit decreasing: each size, largest first, from the first stick that has room."""
    sticks: list[list[int]] = []
    left: list[int] = []
    for size in sorted(Counter(dict(demand)).elements(), reverse=True):
        place = next((i for i, room in enumerate(left) if room >= size), len(left))
        if place == len(left):
            sticks.append([])
            left.append(capacity)
        sticks[place].append(size)
        left[place] -= size
    return [tuple(stick) for stick in sticks]


def counted_bound(demand: Demand, capacity: int) -> int:
    """The bound L2 of Martello and Toth (1990, from memory).

    For any limit: sizes beyond half a stick are alone among themselves; those beyond capacity - limit share with
    no size of the limit or more; what of the others does not fit beside the middle ones needs sticks of its own.
    """
    best = 0
    for limit in (0, *(size for size in demand if 2 * size <= capacity)):
        alone = sum(n for size, n in demand.items() if size > capacity - limit)
        middle = [(size, n) for size, n in demand.items() if 2 * size > capacity and size <= capacity - limit]
        small = sum(size * n for size, n in demand.items() if limit <= size and 2 * size <= capacity)
        halves = sum(n for _, n in middle)
        room = sum((capacity - size) * n for size, n in middle)
        best = max(best, alone + halves + max(0, -((room - small) // capacity)))
    return best


def _all(sizes: Sequence[tuple[int, int]], room: int) -> Iterator[Pattern]:
    """Every pattern of the sizes and their counts, the fullest of the largest sizes first."""
    if not sizes:
        yield ()
        return
    size, count = sizes[0]
    for taken in range(min(count, room // size), -1, -1):
        for rest in _all(sizes[1:], room - taken * size):
            yield (size,) * taken + rest


def _every(demand: Demand, capacity: int) -> list[Pattern] | None:
    """All patterns to which no other piece of the demand can be added; None where there are too many."""
    listed = list(islice(_all(sorted(demand.items(), reverse=True), capacity), MOST_LISTED + 1))
    return [p for p in listed if _full(p, demand, capacity)] if len(listed) <= MOST_LISTED else None


def _full(pattern: Pattern, demand: Demand, capacity: int) -> bool:
    """Whether no other piece of the demand would still come from the stick."""
    room, used = capacity - sum(pattern), Counter(pattern)
    return all(size > room or used[size] == count for size, count in demand.items())


def _counts(patterns: Sequence[Pattern], sizes: Sequence[int]) -> Any:
    """Matrix (sizes, patterns) of how many pieces of each size a pattern gives."""
    row, counts = {size: i for i, size in enumerate(sizes)}, np.zeros((len(sizes), len(patterns)))
    for column, pattern in enumerate(patterns):
        for size in pattern:
            counts[row[size], column] += 1
    return counts


def _chosen(patterns: Sequence[Pattern], demand: Demand) -> tuple[list[Pattern] | None, int]:
    """The fewest of these patterns that cut the demand, trimmed to it, and the bound proven for these patterns."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    sizes = list(demand)
    result = milp(
        np.ones(len(patterns)),
        integrality=np.ones(len(patterns)),
        bounds=Bounds(0, np.inf),
        constraints=LinearConstraint(_counts(patterns, sizes), np.array([demand[size] for size in sizes], float)),
        options={"node_limit": NODES, "time_limit": SECONDS},
    )
    bound = 0 if result.mip_dual_bound is None else math.ceil(result.mip_dual_bound - EXACT)
    if result.x is None:
        return None, bound
    taken = [p for p, times in zip(patterns, result.x, strict=True) for _ in range(round(times))]
    return _trimmed(taken, demand), bound


def _trimmed(patterns: Sequence[Pattern], demand: Demand) -> list[Pattern]:
    """The patterns without the pieces that nobody asked for."""
    left, kept = Counter(dict(demand)), []
    for pattern in patterns:
        pieces = []
        for size in pattern:
            if left[size]:
                left[size] -= 1
                pieces.append(size)
        if pieces:
            kept.append(tuple(pieces))
    return kept


def _generated(
    start: Sequence[Pattern], bound: int, demand: Demand, capacity: int
) -> tuple[list[Pattern], list[Pattern], int]:
    """Patterns that the linear programme asked for, the best whole layout met on the way, and the bound proven.

    In each round the prices lay out the whole demand, dearest stick first.  No stick is worth more than the
    first one, so at least sum(price x count) / its worth sticks are needed.
    """
    sizes, best = list(demand), list(start)
    known = dict.fromkeys([*start, *((size,) for size in sizes)])
    count = np.array([demand[size] for size in sizes], float)
    work = 0
    while len(best) > bound and work < MOST_WORK:
        prices = _prices(list(known), sizes, count)
        worth = {size: float(p) + FILL * size / capacity for size, p in zip(sizes, prices, strict=True)}
        layout, spent = _dearest_first(demand, worth, capacity, MOST_WORK - work)
        dearest = sum(worth[size] for size in layout[0])
        bound = max(bound, math.ceil(float(prices @ count) / max(1.0, dearest) - EXACT))
        best = min(best, layout, key=len)
        before, work = len(known), work + spent
        known |= dict.fromkeys(layout)
        if dearest <= 1 + EXACT or len(known) == before:
            break
    return list(known), best, bound


def _dearest_first(
    demand: Demand, worth: Mapping[int, float], capacity: int, most_work: int
) -> tuple[list[Pattern], int]:
    """The whole demand, each stick the one of most worth from what is left, and the work that took.

    When there is no more work to spend the rest is laid out first-fit.
    """
    scale = math.gcd(capacity, *demand)
    left, layout, work = Counter(dict(demand)), list[Pattern](), 0
    while left and (work < most_work or not layout):
        items = {size // scale: (n, worth[size]) for size, n in left.items()}
        pattern = tuple(scale * size for size in _knapsack(items, capacity // scale))
        used = Counter(pattern)
        times = min(left[size] // n for size, n in used.items())
        layout += [pattern] * times
        work += capacity // scale * len(left)
        left -= Counter({size: n * times for size, n in used.items()})
    return layout + first_fit(left, capacity), work


def _prices(patterns: Sequence[Pattern], sizes: Sequence[int], count: NDArray[np.float64]) -> NDArray[np.float64]:
    """What one more piece of each size would cost in sticks, by the linear programme over these patterns."""
    from scipy.optimize import linprog

    result = linprog(np.ones(len(patterns)), A_ub=-_counts(patterns, sizes), b_ub=-count, method="highs-ds")
    return np.asarray(np.maximum(0.0, -result.ineqlin.marginals))


def _knapsack(items: Mapping[int, tuple[int, float]], capacity: int) -> Pattern:
    """The pattern of most worth from {size: (count, worth of one)}, exactly, by dynamic programming."""
    lots = [
        (size * n, worth * n, size, n)
        for size, (count, worth) in sorted(items.items())
        for n in _parts(min(count, capacity // size))
    ]
    best = np.zeros(capacity + 1)
    taken = np.zeros((len(lots), capacity + 1), bool)
    for row, (size, worth, _, _) in enumerate(lots):
        with_it = best[: capacity + 1 - size] + worth
        np.greater(with_it, best[size:], out=taken[row, size:])
        np.maximum(best[size:], with_it, out=best[size:])
    pattern, room = [], capacity
    for row in reversed(range(len(lots))):
        if taken[row, room]:
            pattern += [lots[row][2]] * lots[row][3]
            room -= lots[row][0]
    return tuple(sorted(pattern, reverse=True))


def _parts(count: int) -> list[int]:
    """Parts whose sums give every number up to the count: 1, 2, 4, ... and the rest."""
    parts, part = [], 1
    while count > 0:
        parts.append(min(part, count))
        count -= part
        part *= 2
    return parts
