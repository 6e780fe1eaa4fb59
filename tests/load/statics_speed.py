"""Statics beside OpenSees and PyNite in one run, many variations at once, and growth with the number of joints.

``.venv/bin/python -m tests.load.statics_speed``.  Each program builds its model anew from the same truss, solves it
and hands back forces, reactions and displacements; here the rank and the cautions are found beside.
Growth: the singular values, the factorisation and the elimination of null spaces grow with the cube of the
joints.  Only the thinning out in worker/statics/sparse.py grows faster, with the fourth power, and it is left out
where that would be much (MOST_WORK).  Measured powers just above 3 between 100 and 200 joints are the cache's.
OpenSees gets the calls that suit it best (banded solver, one material), straight from the truss's values.
"""

from __future__ import annotations

import math
import os
from itertools import pairwise

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np
import openseespy.opensees as ops

from tests import pynite
from tests.load.statics_ratio import median_seconds
from tests.trusses import MODULUS_MPA, made_redundant, pratt, triangulated, warren
from worker.statics import forces_for_loads, forces_for_stiffness, mechanisms_of, redundant_members, solve
from worker.truss.model import Truss

VARIATIONS = 10_000


def opensees_once(truss: Truss) -> tuple[list[float], list[list[float]], list[list[float]]]:
    """Forces, reactions and displacements from OpenSees, in as few and as fast calls as it needs."""
    tags = {name: index for index, name in enumerate(truss.joints, 1)}
    ops.wipe()
    ops.model("basic", "-ndm", 2, "-ndf", 2)
    for name, tag in tags.items():
        ops.node(tag, *truss.joints[name])
    for name, support in truss.supports.items():
        ops.fix(tags[name], *((1, 1) if len(support.held) == 2 else (0, 1)))
    ops.uniaxialMaterial("Elastic", 1, MODULUS_MPA)
    for index, m in enumerate(truss.members, 1):
        ops.element("Truss", index, tags[m.start], tags[m.end], m.area_mm2, 1)
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    for name, load in truss.loads.items():
        ops.load(tags[name], *load)
    ops.constraints("Plain")
    ops.numberer("RCM")
    ops.system("BandSPD")
    ops.integrator("LoadControl", 1.0)
    ops.algorithm("Linear")
    ops.analysis("Static", "-noWarnings")
    assert ops.analyze(1) == 0
    ops.reactions()
    return (
        [ops.basicForce(index)[0] for index in range(1, len(truss.members) + 1)],
        [ops.nodeReaction(tags[name]) for name in truss.supports],
        [ops.nodeDisp(tag) for tag in tags.values()],
    )


def compared(name: str, truss: Truss) -> str:
    """One line: the three times and the two ratios.  Rounds alternate, so that a busy machine slows all alike."""
    rounds = [
        (median_seconds(lambda: solve(truss), 60), median_seconds(lambda: opensees_once(truss), 60)) for _ in range(7)
    ]
    ours, opensees = (sorted(times)[len(times) // 2] for times in zip(*rounds, strict=True))
    slow = median_seconds(lambda: pynite.analysed(truss), 15)
    return (
        f"{name}, {len(truss.members)} members: solve {ours * 1e6:.0f} us, OpenSees {opensees * 1e6:.0f} us, "
        f"PyNite {slow * 1e3:.1f} ms; solve takes {ours / opensees:.2f} times OpenSees, "
        f"PyNite {slow / ours:.0f} times solve"
    )


def batched(name: str, truss: Truss) -> str:
    """One line: microseconds for each of many variations of load and of stiffness."""
    chance = np.random.default_rng(0)
    loads = chance.normal(0.0, 50.0, (VARIATIONS, len(truss.joints), 2))
    stiffness = chance.uniform(5e4, 2e5, (VARIATIONS, len(truss.members)))
    by_load = median_seconds(lambda: forces_for_loads(truss, loads), 5) / VARIATIONS
    by_stiffness = median_seconds(lambda: forces_for_stiffness(truss, stiffness), 5) / VARIATIONS
    alone = median_seconds(lambda: solve(truss), 60)
    return (
        f"{name}, {len(truss.members)} members, {VARIATIONS} variations: {by_load * 1e6:.2f} us for each load, "
        f"{by_stiffness * 1e6:.2f} us for each set of stiffnesses; solve alone takes {alone / by_load:.0f} and "
        f"{alone / by_stiffness:.0f} times as long"
    )


def growing() -> list[str]:
    """How time grows: the power of the number of joints between one size and the next."""
    sizes = (13, 25, 50, 100, 200)
    trusses = [triangulated(1, joints) for joints in sizes]
    redundant = [made_redundant(truss, 1, joints // 4) for truss, joints in zip(trusses, sizes, strict=True)]
    loose = [warren_without(joints) for joints in sizes]
    return [
        _growth("solve, determinate", sizes, [median_seconds(lambda t=t: solve(t), 5) for t in trusses]),
        _growth("solve, a quarter redundant", sizes, [median_seconds(lambda t=t: solve(t), 5) for t in redundant]),
        _growth("rank alone", sizes, [median_seconds(lambda t=t: mechanisms_of(t), 5) for t in trusses]),
        _growth("solve, a mechanism in four", sizes, [median_seconds(lambda t=t: solve(t), 3) for t in loose]),
        _growth("redundant members", sizes, [median_seconds(lambda t=t: redundant_members(t), 3) for t in redundant]),
    ]


def warren_without(joints: int) -> Truss:
    """A Warren girder in which every eighth member is missing."""
    truss = warren((joints - 1) // 2)
    return Truss(truss.joints, tuple(m for i, m in enumerate(truss.members) if i % 8 != 5), truss.supports, truss.loads)


def _growth(name: str, sizes: tuple[int, ...], seconds: list[float]) -> str:
    powers = [
        math.log(u / t) / math.log(b / a) for (a, b), (t, u) in zip(pairwise(sizes), pairwise(seconds), strict=True)
    ]
    times = ", ".join(f"{n}: {t * 1e3:.2f} ms" for n, t in zip(sizes, seconds, strict=True))
    return f"{name}, joints and time: {times}; powers {', '.join(f'{p:.1f}' for p in powers)}"


def measure() -> list[str]:
    """All the lines."""
    determinate = pratt(7)
    redundant = made_redundant(triangulated(5, joints=13), seed=5, extra=2)
    return [
        compared("determinate", determinate),
        compared("redundant", redundant),
        batched("determinate", determinate),
        batched("redundant", redundant),
        *growing(),
    ]


if __name__ == "__main__":
    print("\n".join(measure()))
