"""Solved trusses to build, and the brief they are for."""

from __future__ import annotations

from rubric import library
from rubric.brief import Brief, Limits
from rubric.messages.outcomes import Analysis
from tests import trusses
from tests.worker.feedback import samples
from worker.truss.model import Truss

BRIEF = library.brief("footbridge").model_copy(update={"limits": Limits()})
TYPICAL, SMALL = trusses.warren(4, 150, 120), trusses.warren(2, 40, 30)
FLAT, DEEP = trusses.pratt(14, 120, 60), trusses.pratt(4, 100, 600)


def analysis_of(truss: Truss, doubled: tuple[str, ...] = ()) -> Analysis:
    """The truss as solved, all of square5, some members of two sticks."""
    found = samples.analysis_of(truss)
    members = [row.model_copy(update={"count": 2}) if row.name in doubled else row for row in found.members]
    return found.model_copy(update={"members": tuple(members)})


def brief(span_mm: float, **changes: object) -> Brief:
    """The footbridge over another span."""
    return BRIEF.model_copy(update={"span_mm": span_mm, **changes})
