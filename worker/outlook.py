"""Beyond the first failure: the whole truss, what comes after, chance, rigid joints, the kit, par.

All of it is computed once for the truss as handed in; what would take too long for a very large
truss is left out and None.
"""

from __future__ import annotations

import math
from functools import lru_cache

from rubric.brief import Brief
from rubric.messages.outcomes import Break, CutStick, Outlook, StickNeed
from worker import statics
from worker.advice.cutting import CutList, cut_lists
from worker.advice.par import par_of
from worker.analysis import Solved
from worker.chance import FailureLoads, failure_loads, seed
from worker.collapse import Collapse, collapse
from worker.demand import STILL, framed, loaded_at
from worker.stability import buckling, is_shallow, limit_load
from worker.strength.bridge import weight_N
from worker.strength.wood import scatter, wood

FAR = 10.0
"""Times the target load up to which giving way as a whole is looked for."""

LARGE = 60
"""Joints from which collapse, and scatter of a redundant truss, are left out: they would take seconds."""

MOST_NAMED = 3

MOST_PIECES = 500
"""Pieces of one kind of stick whose layout is told."""


def outlook(solved: Solved, data: bytes, par_g: float | None = None) -> Outlook | None:
    """The outlook of a stable truss; None for a mechanism.

    ``data``, the file, seeds the scatter; ``par_g`` is what ``par_wood_g`` gave for the brief, which is
    asked where it is None.
    """
    if not solved.stable or solved.strength.first is None:
        return None
    whole = whole_load_N(solved)
    after, chance, rigid = _after(solved), _chance(solved, data, whole), framed(solved.truss, solved.brief)
    par_g = par_wood_g(solved.brief) if par_g is None else par_g
    members_N = solved.strength.failure_load_N
    reached_N = members_N if whole is None or members_N is None else min(whole, members_N)
    return Outlook(
        whole_load_N=whole,
        peak_load_N=None if after is None else after.peak_load_N,
        kept_after_first=None if after is None else after.kept_after_first,
        breaks=_breaks(after) if after and solved.solution.degree else (),
        redundant=statics.redundant_members(solved.truss) if solved.solution.degree else (),
        low_N=chance.low_N if chance else None,
        median_N=chance.median_N if chance else None,
        high_N=chance.high_N if chance else None,
        twenty_N=chance.twenty_N if chance else (),
        chance=chance.chance if chance else None,
        fails_first=tuple(chance.fails_first.items())[:MOST_NAMED] if chance else (),
        bending_share=rigid.bending_share if rigid else None,
        rigid_warning=(rigid.warning or "") if rigid else "",
        sticks=_sticks(solved),
        par_efficiency=_par_efficiency(solved.brief, par_g, reached_N),
    )


def whole_load_N(solved: Solved) -> float | None:
    """Load on the whole bridge at which a side truss gives way as a whole; None up to FAR times the target.

    The linear buckling load, and for a shallow truss the first limit point of its path, whichever is less;
    of a load that travels the least of all its places.  Self-weight is there before and does not grow.
    """
    asked = solved.demand
    assert asked is not None
    own = asked.permanent.forces_N if asked.permanent else None
    factors = []
    for place, action in asked.target.items():
        truss = solved.truss if place == STILL else loaded_at(solved.truss, place, solved.brief)
        factors += [buckling(truss, action.forces_N, own).factor]
        factors += [limit_load(truss, FAR).factor] if is_shallow(truss, FAR) else []
    near = [factor for factor in factors if factor is not None and factor <= FAR]
    return min(near) * solved.brief.load.target_N if near else None


def _after(solved: Solved) -> Collapse | None:
    if len(solved.truss.joints) > LARGE:
        return None
    return collapse(solved.truss, solved.brief, wood(solved.brief.wood))


def _breaks(after: Collapse) -> tuple[Break, ...]:
    return tuple(
        Break(members=step.members, modes=step.modes, at_N=step.at_N, at_once=step.at_once) for step in after.steps
    )


def _chance(solved: Solved, data: bytes, whole_N: float | None) -> FailureLoads | None:
    if solved.solution.degree and len(solved.truss.joints) > LARGE:
        return None
    wood_scatter = scatter(solved.brief.wood)
    factor = math.inf if whole_N is None else whole_N / solved.brief.load.target_N
    return failure_loads(
        solved.truss, solved.solution, solved.brief, wood_scatter, seed(data), asked=solved.demand, whole=factor
    )


def _sticks(solved: Solved) -> tuple[StickNeed, ...]:
    stock, kerf_mm = solved.brief.stock, solved.brief.kerf_mm
    return tuple(
        StickNeed(
            stick=name,
            needed=len(cut.sticks),
            in_kit=stock[name].count,
            fits=cut.fits(stock[name].count),
            layout=_layout(cut, stock[name].length_mm, kerf_mm),
        )
        for name, cut in cut_lists(solved.truss, solved.brief, kerf_mm).items()
    )


def _layout(cut: CutList, length_mm: float, kerf_mm: float) -> tuple[CutStick, ...]:
    """How to cut each stick; nothing where nobody could follow it for its length."""
    if sum(map(len, cut.sticks)) > MOST_PIECES:
        return ()
    return tuple(
        CutStick(pieces=stick, left_mm=max(0.0, length_mm - sum(mm + kerf_mm for _, mm in stick)))
        for stick in cut.sticks
    )


def _par_efficiency(brief: Brief, par_g: float | None, load_N: float | None) -> float | None:
    """Efficiency of the lightest bridge for this load: its wood grows with the load, its cross members do not."""
    if par_g is None or load_N is None:
        return None
    ties_g = brief.cross_members.mass_g if brief.cross_members else 0.0
    return load_N / weight_N(par_g * load_N / brief.load.target_N + ties_g)


def par_wood_g(brief: Brief) -> float | None:
    """Wood of the lightest bridge that could carry the brief's target load, g; None where none could.

    Computed once for each brief in each process, because it takes about a second.
    """
    return _par_wood_g(brief.model_dump_json())


@lru_cache(maxsize=64)
def _par_wood_g(brief: str) -> float | None:
    par = par_of(Brief.model_validate_json(brief))
    return None if par is None else par.wood_g
