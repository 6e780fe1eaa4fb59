"""Generated trusses of every kind, solved here and by OpenSees: how far the answers lie apart.

``python -m tests.worker.statics.referees`` prints the table.  PyNite judges another 320 plane trusses in
tests/published/test_generated_trusses.py, and some of these.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from tests import opensees
from tests.trusses import (
    grown_in_space,
    made_redundant,
    mapped,
    member,
    misfitting,
    settled,
    triangulated,
    turned,
    warren,
)
from worker.statics import solve
from worker.truss.model import Member, Support, Truss, Vector


def plane_determinate(seed: int) -> Truss:
    truss = triangulated(seed, 3 + seed % 25, settles=seed % 3 == 0)
    return misfitting(truss, seed) if seed % 2 else truss


def plane_redundant(seed: int) -> Truss:
    truss = made_redundant(triangulated(seed, 4 + seed % 25, settles=seed % 3 == 0), seed, 1 + seed % 6, seed % 2)
    return misfitting(truss, seed) if seed % 4 < 2 else truss


def space_determinate(seed: int) -> Truss:
    truss = grown_in_space(seed, 4 + seed % 20)
    return misfitting(truss, seed) if seed % 2 else truss


def space_redundant(seed: int) -> Truss:
    """More members, and a few more supports that hold z."""
    rng = random.Random(seed)
    truss = grown_in_space(seed, 5 + seed % 20)
    names = list(truss.joints)
    joined = {frozenset((m.start, m.end)) for m in truss.members}
    free = [(a, b) for i, a in enumerate(names) for b in names[i + 1 :] if frozenset((a, b)) not in joined]
    extra = tuple(member(*pair, area=rng.uniform(4, 80)) for pair in rng.sample(free, min(len(free), 1 + seed % 5)))
    more = {name: Support.in_space("z", "holds z") for name in rng.sample(names[3:], seed % 3)}
    truss = replace(truss, members=truss.members + extra, supports={**truss.supports, **more})
    sunk = {name: (0.0, 0.0, rng.uniform(-2, 2)) for name in more}
    return replace(misfitting(truss, seed), settlements=sunk)


def near_critical(seed: int) -> Truss:
    """A joint between two others, almost on the line through them: it is held by nothing else across."""
    rng = random.Random(seed)
    truss = triangulated(seed, 5 + seed % 12)
    start, end = rng.choice([(m.start, m.end) for m in truss.members])
    (ax, ay), (bx, by) = truss.joints[start], truss.joints[end]
    off = 10 ** rng.uniform(-4.5, -1.5)
    place = ((ax + bx) / 2 - off * (by - ay), (ay + by) / 2 + off * (bx - ax))
    shallow = tuple(member(name, "flat", area=rng.uniform(4, 80)) for name in (start, end))
    joints, loads = truss.joints | {"flat": place}, truss.loads | {"flat": (rng.uniform(-9, 9), rng.uniform(-9, 9))}
    made = replace(truss, joints=joints, members=truss.members + shallow, loads=loads)
    return made_redundant(made, seed, 1) if seed % 2 else made


def long_thin(seed: int) -> Truss:
    """A Warren girder of up to 149 joints, some with a third support, some braced twice in a few panels."""
    panels = 3 + (seed * 7) % 72
    truss = warren(panels, panel=100.0, depth=40.0 + 10 * (seed % 7))
    if seed % 2:
        return truss
    truss = replace(truss, supports={**truss.supports, f"b{panels // 2}": Support.roller()})
    crossed: tuple[Member, ...] = (member("b0", "t1"), member(f"b{panels}", f"t{panels - 2}"))
    return settled(replace(truss, members=truss.members + crossed), random.Random(seed))


def large(seed: int) -> Truss:
    return made_redundant(triangulated(seed, 100 + 10 * (seed % 6)), seed, 20)


KINDS: Mapping[str, tuple[Callable[[int], Truss], int]] = {
    "plane, determinate": (plane_determinate, 200),
    "plane, redundant": (plane_redundant, 200),
    "space, determinate": (space_determinate, 150),
    "space, redundant": (space_redundant, 150),
    "near-critical": (near_critical, 100),
    "long and thin": (long_thin, 72),
    "100 to 150 joints": (large, 12),
}
"""The maker of each kind, and how many of it are solved."""


@dataclass(frozen=True)
class Gap:
    """How far two answers to one truss lie apart, each as a part of the largest number of its kind."""

    forces: float
    reactions: float
    displacements: float


def gap(truss: Truss, turn_deg: float = 0.0) -> Gap:
    """The answer here to the truss, turned, against that of OpenSees to it as it stands."""
    theirs = opensees.truss_model(truss)
    ours = solve(mapped(truss, turned(turn_deg)) if turn_deg else truss)
    assert ours.displacements is not None
    back: Callable[[Vector], Vector] = turned(-turn_deg) if turn_deg else tuple
    return Gap(
        _apart(ours.forces.values(), theirs.forces.values()),
        _apart(_flat(map(back, ours.reactions.values())), _flat(theirs.reactions.values()), ours.forces.values()),
        _apart(_flat(map(back, ours.displacements.values())), _flat(theirs.displacements.values())),
    )


@dataclass(frozen=True)
class Row:
    """All the trusses of a kind: their sizes, how many are redundant, and the widest gaps."""

    kind: str
    trusses: int
    redundant: int
    joints: tuple[int, int]
    condition: float
    widest: Gap


def row(kind: str) -> Row:
    """Solve every truss of a kind twice; plane ones are turned for us, so that rollers stand on slopes."""
    make, count = KINDS[kind]
    trusses = [make(seed) for seed in range(count)]
    plane = len(next(iter(trusses[0].joints.values()))) == 2
    gaps = [gap(truss, 17.0 * (seed % 5) if plane else 0.0) for seed, truss in enumerate(trusses)]
    solved = [solve(truss) for truss in trusses]
    sizes = [len(truss.joints) for truss in trusses]
    return Row(
        kind,
        count,
        sum(solution.degree > 0 for solution in solved),
        (min(sizes), max(sizes)),
        max(solution.condition for solution in solved),
        Gap(*(max(getattr(g, what) for g in gaps) for what in ("forces", "reactions", "displacements"))),
    )


def table(rows: Iterable[Row]) -> str:
    """The rows as text."""
    lines = [f"{'kind':<20}{'trusses':>8}{'redundant':>10}{'joints':>11}{'condition':>11}  widest gap: N, R, u"]
    for r in rows:
        widest = f"{r.widest.forces:.0e} {r.widest.reactions:.0e} {r.widest.displacements:.0e}"
        low, high = r.joints
        lines.append(f"{r.kind:<20}{r.trusses:>8}{r.redundant:>10}{low:>5} to {high:>3}{r.condition:>11.0e}  {widest}")
    return "\n".join(lines)


def _apart(found: Iterable[float], wanted: Iterable[float], scale: Iterable[float] = ()) -> float:
    pairs = list(zip(found, wanted, strict=True))
    largest = max([*(abs(b) for _, b in pairs), *map(abs, scale)])
    return max(abs(a - b) for a, b in pairs) / largest if largest else 0.0


def _flat(vectors: Iterable[Vector]) -> list[float]:
    return [x for v in vectors for x in v]


if __name__ == "__main__":
    print(table(row(kind) for kind in KINDS))
