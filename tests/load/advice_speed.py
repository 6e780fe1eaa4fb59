"""How long par of the ready briefs and a cut list of 60 pieces take: ``python tests/load/advice_speed.py``."""

from __future__ import annotations

import random
import sys
from pathlib import Path
from time import perf_counter

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from rubric import library
from worker.advice.cutting import cut_list
from worker.advice.par import layout, par_of

SEEDS = range(20)


def par_line(name: str) -> str:
    """Par of a ready brief, found anew and then from the cache."""
    brief = library.brief(name)
    layout._unit_par.cache_clear()
    start = perf_counter()
    found = par_of(brief)
    seconds = perf_counter() - start
    start = perf_counter()
    par_of(brief)
    again = perf_counter() - start
    if found is None:
        return f"par of {name}: none"
    return (
        f"par of {name}: {seconds:.2f} s, again {again * 1e3:.1f} ms; {found.mass_g:.1f} g, "
        f"efficiency {found.efficiency:.0f}, gap {1 - found.side.bound_mm3 / found.side.volume_mm3:.0e}"
    )


def cut_line(name: str, shortest: float, longest: float, lengths: int) -> str:
    """Cut lists of 60 pieces of so many different lengths: the middle and the longest time, and how many are proven."""
    times, proven = [], 0
    for seed in SEEDS:
        rng = random.Random(seed)
        sizes = [rng.uniform(shortest, longest) for _ in range(lengths)]
        pieces = [(f"p{number}", sizes[number % lengths]) for number in range(60)]
        start = perf_counter()
        proven += cut_list(pieces, 900.0, 1.0).optimal
        times.append(perf_counter() - start)
    middle = sorted(times)[len(times) // 2]
    return (
        f"cut list of 60 pieces, {name}: {middle * 1e3:.1f} ms in the middle, {max(times) * 1e3:.0f} ms at most; "
        f"{proven} of {len(times)} proven"
    )


def measure() -> list[str]:
    """All lines."""
    return [
        *(par_line(name) for name in library.brief_names()),
        cut_line("15 lengths of 40 to 250 mm", 40, 250, 15),
        cut_line("60 lengths of 30 to 250 mm", 30, 250, 60),
        cut_line("60 lengths of 150 to 450 mm", 150, 450, 60),
    ]


if __name__ == "__main__":
    print("\n".join(measure()))
