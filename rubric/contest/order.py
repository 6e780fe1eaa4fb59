"""The running order: who is tested when.

It spreads classes over the day, so that no class waits for its last bridge while another stands idle, and keeps the
bridges of one pupil apart.  Seeded, so that the order that hangs on the wall can be made again.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from random import Random


@dataclass(frozen=True)
class Runner:
    """One entry: its number, the class and the pupil it belongs to."""

    number: int
    school_class: str
    pupil: int


def running_order(runners: Sequence[Runner], seed: int) -> list[int]:
    """The numbers of all entries in the order in which they are tested.

    Two of one class follow each other only where the class has more than half of what is left.  Within a class all
    first bridges come before all second ones and in the same order of pupils, so that as many bridges of the class
    lie between the two of a pupil as the class has pupils with two.
    """
    random = Random(seed)  # noqa: S311 - a fair order, no secret
    queues = {
        name: _of_class([r for r in runners if r.school_class == name], random)
        for name in sorted({r.school_class for r in runners})
    }
    sizes = {name: len(queue) for name, queue in queues.items()}
    shift = {name: random.random() * 0.5 for name in queues}
    order: list[int] = []
    last = ""
    while any(queues.values()):
        last = _next(queues, sizes, shift, last)
        order.append(queues[last].pop(0).number)
    return order


def _of_class(runners: Sequence[Runner], random: Random) -> list[Runner]:
    bridges = Counter(r.pupil for r in runners)
    pupils = sorted(bridges)
    random.shuffle(pupils)
    pupils.sort(key=lambda pupil: -bridges[pupil])  # those with two lead each round, so that theirs lie furthest apart
    rank = {pupil: place for place, pupil in enumerate(pupils)}
    rounds: Counter[int] = Counter()
    placed = []
    for one in sorted(runners, key=lambda r: r.number):
        placed.append((rounds[one.pupil], rank[one.pupil], one))
        rounds[one.pupil] += 1
    return [one for *_, one in sorted(placed, key=lambda each: each[:2])]


def _next(queues: dict[str, list[Runner]], sizes: dict[str, int], shift: dict[str, float], last: str) -> str:
    left = {name: len(queue) for name, queue in queues.items() if queue}
    total = sum(left.values())
    pressing = next((name for name, count in left.items() if 2 * count > total), None)
    if pressing is not None and (pressing != last or len(left) == 1):
        return pressing
    free = [name for name in left if name != last] or list(left)
    return min(free, key=lambda name: ((sizes[name] - left[name] + shift[name]) / sizes[name], name))
