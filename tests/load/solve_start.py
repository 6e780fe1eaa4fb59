"""How long ``kingpost solve`` takes, start to finish: a process of its own each time."""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter

from tests.service.site import GIRDER

ROUNDS = 15
ASKED_S = 0.4


def seconds(arguments: list[str]) -> float:
    """Median time of one whole run."""
    times = []
    for _ in range(ROUNDS):
        start = perf_counter()
        subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL)
        times.append(perf_counter() - start)
    return statistics.median(times)


def measure() -> list[str]:
    """The run, and beside it what Python alone and the import of NumPy take."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "truss.yaml"
        file.write_bytes(GIRDER)
        whole = seconds(["-m", "rubric.commandline", "solve", str(file), "--brief", "footbridge", "--json"])
    bare, numpy = seconds(["-c", ""]), seconds(["-c", "import numpy"])
    return [
        f"kingpost solve, start to finish: {whole:.3f} s (asked: {ASKED_S} s or less); "
        f"Python alone {bare:.3f} s, with NumPy imported {numpy:.3f} s"
    ]


if __name__ == "__main__":
    print("\n".join(measure()))
