"""Generated trusses against PyNite, a general structural library that knows nothing of this project.

PyNite holds joints along the axes only.  A truss with rollers on a slope is therefore turned as a
whole until they lie along x, solved there by PyNite, and compared in the turned position with the
answer found here in the file's own position.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import pytest

from tests import pynite
from tests.trusses import made_redundant, mapped, triangulated, turned
from worker.statics import solve
from worker.truss.model import Truss, Vector

TOLERANCE = 1e-6
SLOPES_DEG = (0.0, 30.0, -20.0, 12.5)


@dataclass(frozen=True)
class Drawn:
    """One generated truss, the slope of its rollers, and how many members or supports it has too many."""

    truss: Truss
    slope_deg: float
    degree: int


def drawn(seed: int) -> Drawn:
    """Sizes, slopes, settlements and redundancy vary with the seed; one in 30 has 59 members or more."""
    joints = 31 if seed % 30 == 0 else 4 + seed % 9
    slope = SLOPES_DEG[seed % 4]
    extra, rollers = (0, 0) if seed % 2 else (1 + seed % 3, (seed // 2) % 2)
    truss = triangulated(seed, joints, slope, settles=seed % 3 == 0)
    if extra:
        truss = made_redundant(truss, seed, extra, rollers)
    return Drawn(truss, slope, len(truss.members) + 2 + 1 + rollers - 2 * joints)


def close(found: Iterable[float], wanted: Iterable[float], largest: float) -> bool:
    return all(abs(a - b) <= TOLERANCE * largest for a, b in zip(found, wanted, strict=True))


def flat(vectors: Iterable[Vector]) -> list[float]:
    return [x for v in vectors for x in v]


@pytest.mark.parametrize("seed", range(320))
def test_forces_reactions_and_displacements_agree_with_pynite(seed: int) -> None:
    case = drawn(seed)
    solution = solve(case.truss)
    level = turned(-case.slope_deg)
    frame = pynite.analysed(mapped(case.truss, level))
    assert (solution.state, solution.degree) == ("stable", case.degree)
    assert solution.displacements is not None

    forces = [pynite.force(frame, name) for name in solution.forces]
    reactions = flat(pynite.reaction(frame, joint) for joint in solution.reactions)
    displacements = flat(pynite.displacement(frame, joint) for joint in solution.displacements)
    largest = max(map(abs, forces))
    assert close(solution.forces.values(), forces, largest)
    assert close(flat(map(level, solution.reactions.values())), reactions, largest)
    assert close(flat(map(level, solution.displacements.values())), displacements, max(map(abs, displacements)))


def test_the_generated_trusses_are_of_every_kind() -> None:
    cases = [drawn(seed) for seed in range(320)]
    assert sum(case.degree == 0 for case in cases) >= 100
    assert sum(case.degree >= 2 for case in cases) >= 50
    assert sum(case.degree > 0 and case.slope_deg != 0 for case in cases) >= 50
    assert sum(case.degree > 0 and bool(case.truss.settlements) for case in cases) >= 50
    assert sum(len(case.truss.supports) > 2 for case in cases) >= 50
    assert max(len(case.truss.members) for case in cases) >= 60
