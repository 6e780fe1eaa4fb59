"""Every figure that can be drawn of one analysis."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rubric.brief import Brief
from rubric.messages.outcomes import Analysis, Figure, NextStep
from worker.feedback import figures


def kinds(found: Analysis, asked: Brief, steps: Sequence[NextStep] = ()) -> dict[str, Callable[[], Figure | None]]:
    """By name; a figure that this truss does not have gives None."""
    if found.state == "mechanism":
        return {"mechanism": lambda: figures.mechanism(found, asked, steps)}
    first = found.first_failure
    loaded = next((row.name for row in found.joints if any(row.load_N)), found.joints[0].name)
    governing = [row.start for row in found.members if first and row.name == first.member]
    return {
        "forces": lambda: figures.forces(found, asked),
        "utilisation": lambda: figures.utilisation(found, asked),
        "deflected": lambda: figures.deflected(found, asked),
        "scatter": lambda: figures.scatter(found.outlook, asked),
        "collapse": lambda: figures.collapse(found),
        "influence": lambda: figures.influence(found, asked),
        **{
            f"joint {name}": lambda name=name: figures.joint_body(found, name)
            for name in dict.fromkeys([loaded, *governing])
        },
    }
