"""What worked, said first and only where it is true."""

from __future__ import annotations

from rubric.language import _, counted
from rubric.wording import amount
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
        said.append(_("Your truss is stable: it keeps its shape under load."))
    load_N = found.failure_load_N
    if load_N is not None and load_N >= brief.load.target_N:
        said.append(_("It should carry the target load of {load}.", load=amount(brief.load.target_N, "N")))
    elif load_N is not None:
        share = amount(load_N / brief.load.target_N, "%")
        said.append(_("It already gets to {share} of the target load.", share=share))
    if not broken(solved.truss, brief, found.mass_g, solved.solution.forces):
        said.append(_("It keeps every limit of the brief."))
    if not solved.stable:
        joints = counted("{count} joint", "{count} joints", len(solved.truss.joints))
        bars = counted("{count} member", "{count} members", len(solved.truss.members))
        said.insert(0, _("Your file reads well: {joints} and {members} are in place.", joints=joints, members=bars))
        if _supported(solved):
            said.append(_("The supports and the loaded places have their joints."))
    return said


def _supported(solved: Solved) -> bool:
    return bool(solved.truss.supports) and bool(solved.truss.loads)
