"""What ``kingpost solve --brief`` says beyond statics: strength of the whole bridge."""

from __future__ import annotations

from typing import Any

from rubric.brief import Brief
from rubric.messages.outcomes import Outlook
from rubric.wording import amount, figure
from worker.analysis import analysis, solve
from worker.outlook import whole_load_N
from worker.statics import Solution
from worker.truss.model import Truss


def bridge_of(truss: Truss, brief: Brief) -> tuple[Solution, dict[str, Any]]:
    """The solution at one side's share of the target load, and the bridge as JSON values."""
    solved = solve(truss, brief)
    whole = Outlook(whole_load_N=whole_load_N(solved)) if solved.stable else None
    found = analysis(solved, whole)
    bridge = {
        "failure_load_N": found.failure_load_N,
        "mass_g": found.mass_g,
        "efficiency": found.efficiency,
        "first_failure": found.first_failure.model_dump() if found.first_failure else None,
        "limits_broken": list(found.limits_broken),
        "members": {
            row.name: {"capacity_N": row.capacity_N, "utilisation": row.utilisation, "mode": row.mode}
            for row in found.members
        },
    }
    words = (
        []
        if found.failure_load_N is None or found.first_failure is None
        else [
            "",
            f"The bridge should carry {amount(found.failure_load_N, 'N')}; the brief asks for "
            f"{amount(brief.load.target_N, 'N')}. First to fail: member {found.first_failure.member} "
            f"({found.first_failure.mode}).",
            f"Its mass is {amount(found.mass_g, 'g')}, its efficiency {figure(found.efficiency or 0.0)}.",
            "An estimate for a model, never for a structure people use.",
        ]
    )
    return solved.solution, {"bridge": bridge, "in words": words}
