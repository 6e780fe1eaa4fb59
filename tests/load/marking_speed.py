"""How long a whole file takes without its sheet: reading, solving, strength, scatter, what-ifs, marking, drawing.

``.venv/bin/python -m tests.load.marking_speed``: every file that the demo's students hand in.  Par of the brief is
found out before, as it travels with each order.
"""

from __future__ import annotations

import os
import statistics
from functools import partial
from time import perf_counter

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from rubric import library
from service.demo.school import classes
from worker.marker import mark_file
from worker.outlook import par_wood_g

ROUNDS = 7
ASKED_MS = 40.0


def times_ms() -> dict[str, tuple[int, float]]:
    """Members and the median time by student and file.

    All files are marked in turn, as a class hands them in: what one file leaves behind in a memory must not help
    its own next round.
    """
    files = {}
    for group in classes():
        brief, rubric = library.brief(group.ready), library.rubric(group.ready)
        par_g = par_wood_g(brief)
        for number, hand_in in enumerate(group.hand_ins):
            marked = partial(mark_file, hand_in.text.encode(), brief, rubric, par_g=par_g)
            files[f"{group.name}, {number}, {hand_in.file_name}"] = marked
    members: dict[str, int] = {}
    taken: dict[str, list[float]] = {name: [] for name in files}
    for _ in range(ROUNDS):
        for name, marked in files.items():
            start = perf_counter()
            outcome = marked()
            taken[name].append((perf_counter() - start) * 1e3)
            members[name] = len(outcome.analysis.members) if outcome.analysis else 0
    return {name: (members[name], statistics.median(times)) for name, times in taken.items()}


def measure() -> list[str]:
    """Median, ninth decile and the largest truss."""
    found = list(times_ms().values())
    times = [ms for _, ms in found]
    members, largest = max(found)
    return [
        f"a whole file without its sheet, {len(times)} files: median {statistics.median(times):.1f} ms, "
        f"ninth decile {statistics.quantiles(times, n=10)[8]:.1f} ms ({ASKED_MS:g} asked), "
        f"{members} members {largest:.1f} ms"
    ]


if __name__ == "__main__":
    for name, (members, ms) in times_ms().items():
        print(f"{ms:7.1f} ms {members:3d} members  {name}")
    print("\n".join(measure()))
