"""How long a sheet takes, and against bare WeasyPrint setting the same HTML in the same run.

Run it from the top of the project: ``python -m tests.load.sheet_ratio``.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from statistics import median

from weasyprint import HTML

from tests import trusses
from tests.worker.feedback import samples
from worker.feedback.sheets import sheet_html, sheet_pdf

ROUNDS = 15


def milliseconds(work: Callable[[], object]) -> float:
    """How long one call takes."""
    start = time.perf_counter()
    work()
    return 1000 * (time.perf_counter() - start)


def measure() -> list[str]:
    """Times of one sheet in a few ways, and the ratios."""
    outcome = samples.marked(trusses.warren(7, 85, 90, 15))
    page = sheet_html(samples.HEAD, samples.BRIEF, outcome)
    ways: dict[str, Callable[[], object]] = {
        "sheet_pdf": lambda: sheet_pdf(samples.HEAD, samples.BRIEF, outcome),
        "bare WeasyPrint, pdf/ua-1": lambda: HTML(string=page).write_pdf(pdf_variant="pdf/ua-1"),
        "bare WeasyPrint, untagged": lambda: HTML(string=page).write_pdf(),
        "the HTML alone": lambda: sheet_html(samples.HEAD, samples.BRIEF, outcome),
    }
    lines = [f"first sheet of the process: {milliseconds(ways['sheet_pdf']):.0f} ms"]
    taken: dict[str, list[float]] = {name: [] for name in ways}
    for _ in range(ROUNDS):  # taken in turn, so that a busy machine slows all alike
        for name, work in ways.items():
            taken[name].append(milliseconds(work))
    for name, times in taken.items():
        lines.append(f"{name}: least {min(times):.0f} ms, median {median(times):.0f} ms")
    for bare in list(ways)[1:3]:
        lines.append(f"sheet_pdf over {bare}: {median(taken['sheet_pdf']) / median(taken[bare]):.2f}")
    return lines


if __name__ == "__main__":
    print("\n".join(measure()))
