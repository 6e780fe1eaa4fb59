"""How long solving takes beside PyNite on the same truss in the same run: ``python tests/load/statics_ratio.py``."""

from __future__ import annotations

import statistics
import sys
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests import pynite
from tests.trusses import made_redundant, pratt, triangulated
from worker.statics import solve
from worker.truss.model import Truss


def median_seconds(work: Callable[[], object], rounds: int) -> float:
    """Median time of one call, after one call to warm up."""
    work()
    times = []
    for _ in range(rounds):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return statistics.median(times)


def compared(name: str, truss: Truss) -> str:
    """One line: time for this truss here and in PyNite, building its model included, and the ratio."""
    ours = median_seconds(lambda: solve(truss), 200)
    theirs = median_seconds(lambda: pynite.analysed(truss), 20)
    return (
        f"{name}, {len(truss.members)} members: solve {ours * 1e3:.3f} ms, PyNite {theirs * 1e3:.1f} ms, "
        f"PyNite takes {theirs / ours:.0f} times as long"
    )


def measure() -> list[str]:
    """The comparison for trusses of 25 members, and the time for a large redundant one."""
    determinate = pratt(7)
    redundant = made_redundant(triangulated(5, joints=13), seed=5, extra=2)
    large = made_redundant(triangulated(1, joints=200), seed=1, extra=203)
    seconds = median_seconds(lambda: solve(large), 5)
    return [
        compared("determinate", determinate),
        compared("redundant", redundant),
        f"redundant, {len(large.joints)} joints and {len(large.members)} members: solve {seconds * 1e3:.0f} ms",
    ]


if __name__ == "__main__":
    print("\n".join(measure()))
