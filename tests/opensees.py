"""Trusses in OpenSees, a general structural program that knows nothing of this project.

OpenSees keeps one model for a process: each function here wipes it and builds its own.
It holds joints along the axes; a support in any other direction becomes a bar STIFF times as stiff
as the stiffest member, which moves by about 1 / STIFF of what the members stretch.  For full
precision turn a truss first until its rollers lie along the axes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import openseespy.opensees as ops

from worker.truss.model import Member, Truss, Vector

STIFF = 1e8
"""Stiffness of a bar that stands for an inclined support, over that of the stiffest member."""


@dataclass(frozen=True)
class Solved:
    """forces N by member (tension positive), reactions N by supported joint, displacements mm by joint."""

    forces: Mapping[str, float]
    reactions: Mapping[str, Vector]
    displacements: Mapping[str, Vector]


def truss_model(truss: Truss) -> Solved:
    """A plane or space truss solved by OpenSees: pin-jointed, linear, settlements included.

    Every member needs an area and a modulus.  AssertionError where OpenSees cannot solve it.
    """
    tags = begun(truss)
    for index, m in enumerate(truss.members, 1):
        ops.uniaxialMaterial("Elastic", index, m.modulus_MPa)
        ops.element("Truss", index, tags[m.start], tags[m.end], m.area_mm2, index)
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    hold(truss, tags)
    for joint, load in truss.loads.items():
        ops.load(tags[joint], *map(float, load))
    solve_once()
    return Solved(
        forces={m.name: ops.eleResponse(index, "axialForce")[0] for index, m in enumerate(truss.members, 1)},
        reactions=reactions(truss),
        displacements={joint: tuple(ops.nodeDisp(tag)) for joint, tag in tags.items()},
    )


def begun(truss: Truss, freedoms: int | None = None) -> dict[str, int]:
    """An empty model with the truss's joints; the tag of each.  ``freedoms`` of a joint: its coordinates."""
    dimension = len(next(iter(truss.joints.values())))
    ops.wipe()
    ops.model("basic", "-ndm", dimension, "-ndf", freedoms or dimension)
    tags = {joint: tag for tag, joint in enumerate(truss.joints, 1)}
    for joint, tag in tags.items():
        ops.node(tag, *map(float, truss.joints[joint]))
    return tags


def hold(truss: Truss, tags: Mapping[str, int]) -> None:
    """The supports and their settlements; a load pattern must be open."""
    stiffest = max(m.area_mm2 * m.modulus_MPa / truss.length_mm(m) for m in truss.members)
    bar = len(truss.members) + 1
    for joint, support in truss.supports.items():
        moved = truss.settlements.get(joint, (0.0,) * len(truss.joints[joint]))
        for axis in _held_axes(support.held, len(moved)):
            _hold_freedom(tags[joint], axis + 1, moved[axis])
        for direction in () if _along_axes(support.held) else support.held:
            _hold_aslant(truss, joint, tags[joint], direction, moved, bar, STIFF * stiffest)
            bar += 1


def _along_axes(held: tuple[Vector, ...]) -> bool:
    """Whether the held directions are axes, or together every direction."""
    return bool(held) and (len(held) == len(held[0]) or all(max(map(abs, h)) > 1 - 1e-12 for h in held))


def _held_axes(held: tuple[Vector, ...], dimension: int) -> list[int]:
    if not _along_axes(held):
        return []
    return [k for k in range(dimension) if len(held) == dimension or any(abs(h[k]) > 0.5 for h in held)]


def _hold_freedom(tag: int, freedom: int, moved: float) -> None:
    if moved:
        ops.sp(tag, freedom, moved)
    else:
        ops.fix(tag, *(int(k + 1 == freedom) for k in range(ops.getNDF()[0])))


def _hold_aslant(
    truss: Truss, joint: str, tag: int, direction: Vector, moved: Vector, bar: int, stiffness: float
) -> None:
    """A stiff bar of 1 mm, whose far end settles along it."""
    foot = 1000 * bar
    ops.node(foot, *(x - h for x, h in zip(truss.joints[joint], direction, strict=True)))
    along = sum(h * s for h, s in zip(direction, moved, strict=True))
    freedoms = ops.getNDF()[0]
    for k in range(freedoms):
        _hold_freedom(foot, k + 1, along * direction[k] if k < len(direction) else 0.0)
    ops.uniaxialMaterial("Elastic", bar, stiffness)
    ops.element("Truss", bar, foot, tag, 1.0, bar)


def solve_once() -> None:
    """One linear step with the full load."""
    ops.constraints("Transformation")
    ops.numberer("Plain")
    ops.system("FullGeneral")
    ops.integrator("LoadControl", 1.0)
    ops.algorithm("Linear")
    ops.analysis("Static", "-noWarnings")
    assert ops.analyze(1) == 0


def reactions(truss: Truss) -> dict[str, Vector]:
    """Reactions at the supported joints: what the members leave out of balance with the loads there.

    Summed from the members' end forces on the undeformed shape, so that inclined supports count too.
    """
    total = {joint: [-x for x in truss.loads.get(joint, (0.0,) * len(at))] for joint, at in truss.joints.items()}
    for index, m in enumerate(truss.members, 1):
        force = ops.eleResponse(index, "axialForce")[0]
        for joint, sign in ((m.start, -1.0), (m.end, 1.0)):
            for k, cosine in enumerate(_cosines(truss, m)):
                total[joint][k] += sign * force * cosine
    return {joint: tuple(total[joint]) for joint in truss.supports}


def _cosines(truss: Truss, m: Member) -> list[float]:
    length = truss.length_mm(m)
    return [(b - a) / length for a, b in zip(truss.joints[m.start], truss.joints[m.end], strict=True)]
