"""From a truss and its brief to the analysis that marks, sheets and advice are made from."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from rubric.brief import TRAVELLING, Brief
from rubric.messages.outcomes import Analysis, Failure, JointRow, MemberRow, Outlook, Travel
from worker import statics
from worker.demand import STILL, Demand, demand, framed, loaded_at, with_self_weight
from worker.statics import Solution
from worker.strength.bridge import Check, Strength, strength, weight_N
from worker.strength.sections import section_of, with_sections
from worker.strength.slenderness import slenderness_of
from worker.strength.wood import wood
from worker.truss import limits
from worker.truss.cautions import crossings
from worker.truss.model import Truss, Vector
from worker.truss.placing import deck

MOST_WAYS = 3
"""Mechanisms whose joints are told."""


@dataclass(frozen=True)
class Solved:
    """One class truss, solved and checked at the target load.

    ``demand`` is None for a mechanism.  A load that travels stands in ``truss`` and ``solution`` where it
    breaks the bridge first; ``strength`` knows every place.
    """

    truss: Truss
    brief: Brief
    solution: Solution
    demand: Demand | None
    strength: Strength

    @property
    def stable(self) -> bool:
        """Whether it stands at all."""
        return self.solution.state == "stable"


def solve(truss: Truss, brief: Brief) -> Solved:
    """Solve and check a truss that already carries the brief's supports and loads.

    Whether it stands is always judged with hinges: no truss should rely on the stiffness of its glued joints.
    """
    material = wood(brief.wood)
    filled = with_self_weight(with_sections(truss, brief, material.modulus_MPa), brief, material.density_kg_m3)
    solution = statics.solve(filled)
    if solution.mechanisms:
        return Solved(filled, brief, solution, None, strength(filled, None, brief, material))
    asked = demand(filled, solution, brief)
    found = strength(filled, asked, brief, material)
    if found.first and found.first.place != STILL:
        filled = loaded_at(filled, found.first.place, brief)
        solution = statics.solve(filled)
    return Solved(filled, brief, _with_rigid_joints(filled, solution, brief), asked, found)


def _with_rigid_joints(truss: Truss, solution: Solution, brief: Brief) -> Solution:
    """The solution with the frame's forces, reactions and movements, where the brief asks for them."""
    if brief.joints == "hinged":
        return solution
    found = framed(truss, brief)
    return replace(solution, forces=found.forces, reactions=found.reactions, displacements=found.displacements)


def midspan_deflection_mm(solved: Solved) -> float | None:
    """How far the deck joint nearest midspan goes down at the target load; downward positive.

    The most of it, where the load travels.
    """
    names = deck(solved.truss, solved.brief.span_mm)
    if not solved.stable or solved.demand is None or not names:
        return None
    middle = min(names, key=lambda name: abs(solved.truss.joints[name][0] - solved.brief.span_mm / 2))
    moved = [solved.solution.displacements]
    if solved.brief.load.places == TRAVELLING:
        moved = [_moved(loaded_at(solved.truss, place, solved.brief), solved.brief) for place in solved.demand.target]
    return max((0.0 - each[middle][1] for each in moved if each is not None), default=None)


def _moved(truss: Truss, brief: Brief) -> Mapping[str, Vector] | None:
    return _with_rigid_joints(truss, statics.solve(truss), brief).displacements


def analysis(solved: Solved, ahead: Outlook | None = None) -> Analysis:
    """What sheets and pages show of the truss.

    Where the outlook says that the truss gives way as a whole before any member fails, that load is
    the failure load.
    """
    first, found = solved.strength.first, solved.strength
    load_N = found.failure_load_N
    if load_N is not None and ahead is not None and ahead.whole_load_N is not None:
        load_N = min(load_N, ahead.whole_load_N)
    return Analysis(
        state=solved.solution.state,
        joints=tuple(_joint(solved, name) for name in solved.truss.joints),
        members=_members(solved),
        degree=solved.solution.degree,
        mechanisms=solved.solution.mechanisms,
        moving=solved.solution.moving,
        form=solved.solution.form,
        missing_bars=solved.solution.missing_bars,
        critical=solved.solution.critical,
        ways=tuple(_going(motion) for motion in solved.solution.motions[:MOST_WAYS]),
        first_failure=None
        if first is None or found.failure_load_N is None
        else Failure(member=first.member.name, mode=first.mode, load_N=found.failure_load_N, axis=first.axis),
        failure_load_N=load_N,
        mass_g=found.mass_g,
        efficiency=None if load_N is None or not found.mass_g else load_N / weight_N(found.mass_g),
        midspan_deflection_mm=midspan_deflection_mm(solved),
        limits_broken=limits.broken(solved.truss, solved.brief, found.mass_g, solved.solution.forces),
        warnings=(*solved.solution.warnings, *crossings(solved.truss)),
        outlook=ahead,
        travel=_travel(solved),
    )


def _travel(solved: Solved) -> Travel | None:
    first, asked = solved.strength.first, solved.demand
    if first is None or asked is None or first.place == STILL:
        return None
    return Travel(
        joints=tuple(asked.target),
        places_mm=tuple(solved.truss.joints[name][0] for name in asked.target),
        worst=first.place,
        member=first.member.name,
        forces_N=_as_it_travels(asked, first.member.name),
    )


def _as_it_travels(asked: Demand, name: str) -> tuple[float, ...]:
    """Force in a member with the target load on each place in turn, and what is there before."""
    own_N = asked.permanent.forces_N[name] if asked.permanent else 0.0
    return tuple(own_N + action.forces_N[name] for action in asked.target.values())


def _going(motion: Mapping[str, Vector]) -> tuple[str, ...]:
    """The joints that move."""
    return tuple(name for name, step in motion.items() if any(step))


def _plane(vector: Vector) -> tuple[float, float]:
    return vector[0], vector[1]


def _joint(solved: Solved, name: str) -> JointRow:
    truss, solution = solved.truss, solved.solution
    support = truss.supports.get(name)
    motion = solution.motions[0].get(name) if solution.motions else None
    return JointRow(
        name=name,
        x_mm=truss.joints[name][0],
        y_mm=truss.joints[name][1],
        support=support.said if support else "",
        load_N=_plane(truss.loads.get(name, (0.0, 0.0))),
        own_weight_N=0.0 - truss.permanent.get(name, (0.0, 0.0))[1],
        reaction_N=_plane(solution.reactions[name]) if name in solution.reactions else None,
        displacement_mm=_plane(solution.displacements[name]) if solution.displacements else None,
        motion=_plane(motion) if motion is not None and math.hypot(*motion) > 0 else None,
    )


def _members(solved: Solved) -> tuple[MemberRow, ...]:
    """A row for each member; in a mechanism, which has no forces, with nothing in it."""
    idle = (Check(member, 0.0, None, "none", 0.0) for member in solved.truss.members)
    return tuple(_row(solved, check) for check in solved.strength.checks or idle)


def _row(solved: Solved, check: Check) -> MemberRow:
    member, asked = check.member, solved.demand
    forces_N = _as_it_travels(asked, member.name) if asked and check.place != STILL else ()
    section = section_of(member, solved.brief)
    return MemberRow(
        name=member.name,
        start=member.start,
        end=member.end,
        stick=member.stick,
        count=member.count,
        length_mm=solved.truss.length_mm(member),
        area_mm2=section.area_mm2,
        slenderness=slenderness_of(solved.truss, member, solved.brief).governing,
        force_N=solved.solution.forces.get(member.name, 0.0),
        stress_MPa=check.force_N / section.area_mm2,
        capacity_N=check.capacity_N,
        utilisation=check.utilisation,
        mode=check.mode,
        axis=check.axis,
        bending_MPa=check.bending_MPa,
        range_N=(min(forces_N), max(forces_N)) if forces_N else None,
        worst_N=check.force_N if forces_N else None,
        worst_at=check.place,
    )
