"""What the loads of a brief do in each member of one side truss.

The target load stands still, or on one deck joint after another; self-weight is there before it and does
not grow with it.  Forces come from the hinged truss, or with ``joints: rigid`` from the frame, which also bends.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from rubric.brief import TRAVELLING, Brief
from rubric.quantities import STANDARD_GRAVITY
from worker.frame import FrameSolution, frame
from worker.statics import Solution, forces_for_loads, self_weight, with_loads
from worker.statics.solver import NOISE
from worker.statics.structure import Floats
from worker.strength.sections import section_of
from worker.truss.model import Truss, Vector
from worker.truss.placing import inner_deck, spread

STILL = ""
"""The place of a load that does not travel."""

Forces = Mapping[str, float]


@dataclass(frozen=True)
class Action:
    """By member: axial force, N, tension positive, and largest bending stress, MPa, without sign (empty for hinges)."""

    forces_N: Forces
    bending_MPa: Forces


@dataclass(frozen=True)
class Demand:
    """What the target load does wherever it stands (by the name of the deck joint), and what is there before."""

    target: Mapping[str, Action]
    permanent: Action | None = None

    @classmethod
    def still(cls, forces_N: Forces) -> Demand:
        """A load that stands still, on hinges, with nothing before it."""
        return cls({STILL: Action(forces_N, {})})


def demand(truss: Truss, solution: Solution, brief: Brief) -> Demand:
    """The demand on a stable truss that carries its sections, its permanent loads and the target load.

    ``solution`` is that of ``truss``; it is used again where it already tells all.
    """
    travels = brief.load.places == TRAVELLING
    if brief.joints == "rigid":
        return _rigid(truss, brief, _standing(truss, brief) if travels else {STILL: truss})
    if not travels and not truss.permanent:
        return Demand.still(solution.forces)
    return _hinged(truss, _standing(truss, brief) if travels else {STILL: truss})


def standing_still(truss: Truss, solution: Solution, brief: Brief) -> Demand:
    """The demand with the load only where it stands in ``truss``."""
    still = brief.load.model_copy(update={"places": ()}) if brief.load.places == TRAVELLING else brief.load
    return demand(truss, solution, brief.model_copy(update={"load": still}))


def loaded_at(truss: Truss, place: str, brief: Brief) -> Truss:
    """The truss with its share of the target load on one joint."""
    return replace(truss, loads={place: (0.0, -brief.load.target_N * brief.side_share)})


def with_self_weight(truss: Truss, brief: Brief, density_kg_m3: float) -> Truss:
    """The truss with its own weight, where the brief counts it, and its part of the cross members' along the deck.

    Half the weight of each member goes to either end (``statics.self_weight``).  Glue is not counted.
    """
    if brief.self_weight == "left out":
        return replace(truss, permanent={})
    bare = replace(truss, loads={}, permanent={})
    ties_N = (brief.cross_members.mass_g if brief.cross_members else 0.0) * 1e-3 * STANDARD_GRAVITY / brief.sides
    ties: dict[str, Vector] = {
        name: (0.0, -force) for name, force in spread(truss, brief.span_mm, ties_N).items() if force
    }
    own = with_loads(replace(bare, loads=self_weight(bare, density_kg_m3)), ties)
    return replace(truss, permanent=own.loads)


def framed(truss: Truss, brief: Brief) -> FrameSolution:
    """The truss with rigid joints under all its loads; raises as ``frame``."""
    sections = {member.name: section_of(member, brief) for member in truss.members}
    return frame(
        truss,
        {name: section.in_plane_mm4 for name, section in sections.items()},
        {name: section.width_mm / 2 for name, section in sections.items()},
    )


def cases_of(truss: Truss, demand: Demand, brief: Brief) -> Iterator[Truss]:
    """The truss under the target load alone, at each of its places."""
    for place in demand.target:
        yield replace(truss if place == STILL else loaded_at(truss, place, brief), permanent={})


def _standing(truss: Truss, brief: Brief) -> dict[str, Truss]:
    return {name: loaded_at(truss, name, brief) for name in inner_deck(truss, brief.span_mm)}


def _hinged(truss: Truss, cases: Mapping[str, Truss]) -> Demand:
    """All cases by one factorisation."""
    own = replace(truss, loads=truss.permanent)
    forces = forces_for_loads(truss, _loads(truss, [own, *cases.values()]))
    largest = np.abs(forces).max(axis=1, keepdims=True, initial=0.0)
    rows = np.where(np.abs(forces) <= NOISE * largest, 0.0, forces).tolist()
    permanent, *target = (Action(dict(zip((m.name for m in truss.members), row, strict=True)), {}) for row in rows)
    return Demand(dict(zip(cases, target, strict=True)), permanent if truss.permanent else None)


def _rigid(truss: Truss, brief: Brief, cases: Mapping[str, Truss]) -> Demand:
    own = replace(truss, loads={})
    return Demand(
        {place: _action(replace(case, permanent={}), brief) for place, case in cases.items()},
        _action(own, brief) if truss.permanent else None,
    )


def _action(truss: Truss, brief: Brief) -> Action:
    found = framed(truss, brief)
    return Action(found.forces, found.bending_MPa)


def _loads(truss: Truss, cases: Iterable[Truss]) -> Floats:
    """(k, n, 2) N: the loads of each case, joints in the order of the truss."""
    rows = [[case.loads.get(name, (0.0, 0.0)) for name in truss.joints] for case in cases]
    return np.array(rows, dtype=float)
