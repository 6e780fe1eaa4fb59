"""Whether the memory of a process that sets sheet after sheet stays flat, and how two processes share two cores.

Run it from the top of the project: ``python -m tests.load.sheet_memory [SHEETS]``, 1,000 by itself.
"""

from __future__ import annotations

import multiprocessing
import sys
import time
from multiprocessing.connection import Connection
from pathlib import Path

from rubric.messages.settings import celery_settings
from tests import trusses
from tests.worker.feedback import samples
from worker.feedback.sheets import sheet_pdf

SETTLED = 20
"""Sheets until everything that is kept has been read once."""
TOGETHER = 30


def resident_mb() -> float:
    """Memory of this process in RAM, MB."""
    return int(Path("/proc/self/statm").read_text().split()[1]) * 4096 / 1e6


def set_some(count: int) -> None:
    """Sheets of trusses that are not all alike."""
    made = [samples.marked(trusses.warren(panels, 85, 90, 15)) for panels in (3, 5, 7)]
    for number in range(count):
        sheet_pdf(samples.HEAD, samples.BRIEF, made[number % len(made)])


def growth(sheets: int) -> list[str]:
    """Memory of the workers' children, each let go after as many sheets as the settings say.

    Of the first and the last child: at its end, when it holds most.
    """
    each = celery_settings("memory://")["worker_max_tasks_per_child"]
    context = multiprocessing.get_context("fork")
    ends: list[float] = []
    for begun in range(0, sheets, each):
        told, tell = context.Pipe(duplex=False)
        child = context.Process(target=_one_child, args=(min(each, sheets - begun), tell))
        child.start()
        early, late = told.recv()
        child.join()
        ends.append(late)
    return [
        f"memory of the last child: {early:.0f} MB after {SETTLED} sheets, {late:.0f} MB at its end: "
        f"{late / early - 1:+.1%}",
        f"memory over {sheets} sheets, a new child every {each}: {ends[0]:.0f} MB at the end of the first, "
        f"{ends[-1]:.0f} MB of the last, {max(ends):.0f} MB at most: {ends[-1] / ends[0] - 1:+.1%} (under 10 % asked)",
    ]


def _one_child(sheets: int, tell: Connection) -> None:
    set_some(SETTLED)
    early = resident_mb()
    set_some(sheets - SETTLED)
    tell.send((early, resident_mb()))


def seconds(processes: int, each: int) -> float:
    """How long so many processes take for so many sheets each."""
    context = multiprocessing.get_context("fork")
    start = time.perf_counter()
    working = [context.Process(target=set_some, args=(each,)) for _ in range(processes)]
    for one in working:
        one.start()
    for one in working:
        one.join()
    return time.perf_counter() - start


def measure(sheets: int = 1000) -> list[str]:
    """Growth of memory, and the rate of two processes over that of one."""
    set_some(3)
    alone, both = seconds(1, TOGETHER), seconds(2, TOGETHER)
    shared = f"{2 * TOGETHER} sheets on two cores at {2 * alone / both:.2f} times the rate of one core"
    return [f"{shared} (1.9 asked)", *growth(sheets)]


if __name__ == "__main__":
    print("\n".join(measure(*map(int, sys.argv[1:]))))
