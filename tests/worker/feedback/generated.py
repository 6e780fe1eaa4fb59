"""Two hundred trusses of up to forty members, all different: girders, tangles, redundant ones, mechanisms."""

from __future__ import annotations

import random
from dataclasses import replace

from rubric.messages.outcomes import Analysis, Break, Outlook, Travel
from tests import trusses
from tests.worker.feedback import samples
from worker.truss.model import Truss

COUNT = 200


def truss(seed: int) -> Truss:
    """Every fifth is a Warren girder, a Pratt girder, a tangle, a redundant tangle, a girder that lacks members."""
    rng = random.Random(seed)
    panel, depth = rng.uniform(30, 200), rng.uniform(15, 300)
    if seed % 5 == 0:
        return trusses.warren(rng.randint(2, 10), panel, depth)
    if seed % 5 == 1:
        return trusses.pratt(2 * rng.randint(1, 5), panel, depth)
    if seed % 5 == 2:
        return trusses.triangulated(seed, rng.randint(3, 21))
    if seed % 5 == 3:
        return trusses.made_redundant(trusses.triangulated(seed, rng.randint(5, 14)), seed, rng.randint(1, 8))
    girder = trusses.warren(rng.randint(2, 8), panel, depth)
    gone = rng.sample([m.name for m in girder.members], rng.randint(1, 2))
    return replace(girder, members=tuple(m for m in girder.members if m.name not in gone))


def analysed(seed: int) -> Analysis:
    """Solved; a redundant truss falls in made-up stages, and over a Warren girder a made-up load travels."""
    given = truss(seed)
    found = samples.analysis_of(given)
    rng = random.Random(seed)
    if found.state == "stable" and found.degree:
        failing = rng.sample(found.members, min(7, len(found.members)))
        loads = sorted(rng.uniform(10, 300) for _ in failing)
        breaks = tuple(
            Break(members=(row.name,), modes=("buckling",), at_N=load, at_once=rng.random() < 0.5)
            for row, load in zip(failing, loads, strict=True)
        )
        return found.model_copy(update={"outlook": _outlook(rng, breaks)})
    deck = [row for row in found.joints if row.y_mm == 0][1:-1]
    if found.state == "stable" and seed % 5 == 0 and deck:
        member = rng.choice(found.members).name
        travel = Travel(
            joints=tuple(row.name for row in deck),
            places_mm=tuple(row.x_mm for row in deck),
            worst=deck[0].name,
            member=member,
            forces_N=tuple(rng.uniform(-200, 200) for _ in deck),
        )
        return found.model_copy(update={"travel": travel, "outlook": _outlook(rng, ())})
    return found


def _outlook(rng: random.Random, breaks: tuple[Break, ...]) -> Outlook:
    middle, spread = rng.uniform(5, 900), rng.uniform(0.01, 0.5)
    twenty = sorted(rng.lognormvariate(0, spread) * middle for _ in range(20))
    return Outlook(low_N=twenty[1], median_N=twenty[9], high_N=twenty[17], twenty_N=tuple(twenty), breaks=breaks)
