"""How long scatter takes for a girder of 25 members: ``python -m tests.load.chance_speed``.

Two side trusses of 25 members each, glued joints, 2,000 samples, on one core.
Aims: 5 ms or less for a determinate truss, 60 ms or less for a redundant one.
"""

from __future__ import annotations

import os
from dataclasses import replace

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command does; before anything imports NumPy

from rubric import library
from tests.load.statics_ratio import median_seconds
from tests.trusses import made_redundant, pratt
from worker import statics
from worker.chance import failure_loads
from worker.strength.scatter import Scatter
from worker.strength.wood import wood
from worker.truss.model import Truss

BRIEF = library.brief("footbridge")
WOOD = wood(BRIEF.wood)


def girder(extra: int) -> Truss:
    """A Pratt girder of 25 members, of sticks of the kit, and so many more members than it needs."""
    plain = pratt(7)
    truss = made_redundant(plain, seed=3, extra=extra) if extra else plain
    stick = next(iter(BRIEF.stock))
    members = (replace(m, stick=stick, area_mm2=25.0, modulus_MPa=WOOD.modulus_MPa) for m in truss.members)
    return replace(truss, members=tuple(members))


def timed(extra: int) -> str:
    """One line: the time for 2,000 samples."""
    truss = girder(extra)
    solution = statics.solve(truss)
    seconds = median_seconds(lambda: failure_loads(truss, solution, BRIEF, Scatter(), 1, samples=2000), 50)
    return f"scatter, {len(truss.members)} members, redundancy {solution.degree}: {seconds * 1e3:.2f} ms"


def measure() -> list[str]:
    """Scatter of a determinate girder, and of redundant ones."""
    return [timed(extra) for extra in (0, 1, 3, 6)]


if __name__ == "__main__":
    print("\n".join(measure()))
