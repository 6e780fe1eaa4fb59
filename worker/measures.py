"""Every measure of the catalogue, for one truss."""

from __future__ import annotations

from rubric.measures import Measures
from rubric.messages.outcomes import Analysis, Outlook
from worker.analysis import Solved
from worker.outlook import FAR
from worker.truss import limits


def measures(solved: Solved, found: Analysis) -> Measures:
    """Values by name of the measure; None for what this truss cannot have."""
    truss, brief = solved.truss, solved.brief
    lengths = [truss.length_mm(member) for member in truss.members]
    load_N = found.failure_load_N
    first = solved.strength.first
    return {
        "mechanisms": float(found.mechanisms),
        "degree of redundancy": float(found.degree) if solved.stable else None,
        "failure load": load_N,
        "reserve factor": None if load_N is None else load_N / brief.load.target_N,
        "largest utilisation": first.utilisation if first else None,
        **_beyond(found.outlook, brief.load.target_N, found.efficiency),
        "mass": found.mass_g,
        "efficiency": found.efficiency,
        "midspan deflection": found.midspan_deflection_mm,
        "joints": float(len(truss.joints)),
        "members": float(len(truss.members)),
        "distinct lengths": float(len({round(round(length, 6)) for length in lengths})),
        "depth above deck": limits.depth_above_mm(truss),
        "depth below deck": limits.depth_below_mm(truss),
        "longest member": max(lengths, default=None),
        "shortest member": min(lengths, default=None),
        "kit used": limits.kit_used(truss, brief),
        "limits broken": float(len(found.limits_broken)),
    }


def _beyond(ahead: Outlook | None, target_N: float, efficiency: float | None) -> Measures:
    """The measures that only a stable truss has."""
    if ahead is None:
        ahead, whole = Outlook(), None
    else:
        whole = FAR if ahead.whole_load_N is None else ahead.whole_load_N / target_N
    needed = [float(need.needed) for need in ahead.sticks]
    over = [float(max(0, need.needed - need.in_kit)) for need in ahead.sticks]
    par = ahead.par_efficiency
    return {
        "stability factor": whole,
        "peak load": ahead.peak_load_N,
        "kept after first failure": ahead.kept_after_first,
        "chance of carrying the target": ahead.chance,
        "bending share": ahead.bending_share,
        "sticks": sum(needed) if needed else None,
        "sticks over the kit": sum(over) if over else None,
        "share of par": efficiency / par if efficiency is not None and par else None,
    }
