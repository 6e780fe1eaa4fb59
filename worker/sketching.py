"""A look at a file that is still being written: what is understood, drawn, and what is to be mended.

In: a file and its brief.  Out: nothing that a mark is made of, so that typing tells no more than reading
the own drawing would: no forces, no mass, no load.  How far advice on a mechanism goes, the brief says.
"""

from __future__ import annotations

import base64

from rubric.brief import Brief
from rubric.messages.orders import SketchOrder
from rubric.messages.outcomes import Analysis, JointRow, MemberRow, Sketched
from worker import statics
from worker.advice.steps import steps
from worker.analysis import solve
from worker.feedback import figures
from worker.marker import mistakes_of
from worker.strength.sections import with_sections
from worker.strength.wood import wood
from worker.truss.cautions import crossings
from worker.truss.limits import broken
from worker.truss.model import Truss
from worker.truss.reader import understood

MOST_MOVING = 12
"""Joints of a mechanism that are named."""


def sketch(order: SketchOrder) -> Sketched:
    """Look at one file.  Never raises for what a file holds."""
    data = base64.b64decode(order.file_base64)
    return look(data, order.brief, order.job, order.attempt)


def look(data: bytes, brief: Brief, job: int = 0, attempt: str = "") -> Sketched:
    """What is understood of a file for a brief."""
    truss, problems = understood(data, brief)
    found = Sketched(job=job, attempt=attempt, mistakes=mistakes_of(data, problems))
    if truss is None:
        return found
    said = _counted(found, truss)
    if problems:
        return _drawn(said, truss, brief) if truss.joints else said
    return _drawn(_checked(said, truss, brief), truss, brief)


def _counted(found: Sketched, truss: Truss) -> Sketched:
    working = truss.working
    answers = len(working.reactions) + len(working.forces) + (working.zeros is not None) if working else 0
    counts = {"title": truss.title, "joints": len(truss.joints), "members": len(truss.members), "answers": answers}
    return found.model_copy(update=counts)


def _checked(found: Sketched, truss: Truss, brief: Brief) -> Sketched:
    """Limits, and whether it stands; of a truss that the brief gives nothing is told."""
    if brief.problem is not None:
        return found
    solution = statics.solve(with_sections(truss, brief, wood(brief.wood).modulus_MPa))
    stands = not solution.mechanisms
    shape_alone = brief.model_copy(update={"limits": brief.limits.model_copy(update={"mass_g": None})})
    told = {
        "stands": stands,
        "moving": () if brief.advice == "none" else solution.moving[:MOST_MOVING],
        "steps": () if stands else steps(solve(truss, brief)),
        "limits_broken": broken(truss, shape_alone, 0.0),
        "remarks": crossings(truss),
    }
    return found.model_copy(update=told)


def _drawn(found: Sketched, truss: Truss, brief: Brief) -> Sketched:
    joints = tuple(
        JointRow(
            name=name,
            x_mm=place[0],
            y_mm=place[1],
            support=truss.supports[name].said if name in truss.supports else "",
            load_N=(truss.loads[name][0], truss.loads[name][1]) if name in truss.loads else (0.0, 0.0),
        )
        for name, place in truss.joints.items()
    )
    members = tuple(
        MemberRow(
            name=member.name,
            start=member.start,
            end=member.end,
            stick=member.stick,
            count=member.count,
            length_mm=truss.length_mm(member),
            area_mm2=0.0,
            slenderness=0.0,
            force_N=0.0,
            stress_MPa=0.0,
            capacity_N=None,
            utilisation=0.0,
            mode="none",
        )
        for member in truss.members
    )
    rows = Analysis(
        state="stable", joints=joints, members=members, degree=0, mechanisms=0, moving=found.moving, mass_g=0.0
    )
    return found.model_copy(update={"drawing": figures.sketched(rows, brief)})
