"""What worked, said first and only where it is true."""

from __future__ import annotations

from rubric.wording import amount, figure, plural
from worker.analysis import Solved
from worker.truss.limits import broken

MOST_SAID = 3


def praise(solved: Solved) -> tuple[str, ...]:
    """One to three sentences, the most telling first."""
    return tuple(_all(solved))[:MOST_SAID]


def _all(solved: Solved) -> list[str]:
    said = []
    found, brief = solved.strength, solved.brief
    if solved.stable:
        said.append("Your truss is stable: it keeps its shape under load.")
    load_N = found.failure_load_N
    if load_N is not None and load_N >= brief.load.target_N:
        said.append(f"It should carry the target load of {amount(brief.load.target_N, 'N')}.")
    elif load_N is not None:
        said.append(f"It already gets to {figure(100 * load_N / brief.load.target_N)} % of the target load.")
    if not broken(solved.truss, brief, found.mass_g, solved.solution.forces):
        said.append("It keeps every limit of the brief.")
    if not solved.stable:
        joints, bars = len(solved.truss.joints), len(solved.truss.members)
        said.insert(0, f"Your file reads well: {plural(joints, 'joint')} and {plural(bars, 'member')} are in place.")
        if _supported(solved):
            said.append("The supports and the loaded places have their joints.")
    return said


def _supported(solved: Solved) -> bool:
    return bool(solved.truss.supports) and bool(solved.truss.loads)
