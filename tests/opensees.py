"""Trusses in OpenSees, a general structural program that knows nothing of this project.

OpenSees keeps one model for a process: each function here wipes it and builds its own.
It holds joints along the axes; a support in any other direction becomes a bar STIFF times as stiff
as the stiffest member, which moves by about 1 / STIFF of what the members stretch.  For full
precision turn a truss first until its rollers lie along the axes.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import openseespy.opensees as ops
from numpy.typing import NDArray

from worker.truss.model import Member, Truss, Vector

Matrix = NDArray[Any]

STIFF = 1e8
"""Stiffness of a bar that stands for an inclined support, over that of the stiffest member."""


@dataclass(frozen=True)
class Solved:
    """forces N by member (tension positive), reactions N by supported joint, displacements mm by joint."""

    forces: Mapping[str, float]
    reactions: Mapping[str, Vector]
    displacements: Mapping[str, Vector]


def truss_model(truss: Truss) -> Solved:
    """A plane or space truss solved by OpenSees: pin-jointed, linear, settlements and misfits included.

    Every member needs an area and a modulus.  AssertionError where OpenSees cannot solve it.
    """
    tags = begun(truss)
    for index, m in enumerate(truss.members, 1):
        ops.uniaxialMaterial("Elastic", index, m.modulus_MPa)
        material = _strained(truss, m, index) if m.name in truss.misfits else index
        ops.element("Truss", index, tags[m.start], tags[m.end], m.area_mm2, material)
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


def _strained(truss: Truss, m: Member, index: int) -> int:
    """The material of a member that is too long: it is free of stress only when strained by misfit / length."""
    ops.uniaxialMaterial("InitStrain", 1_000_000 + index, index, -truss.misfits[m.name] / truss.length_mm(m))
    return 1_000_000 + index


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


def tangents(truss: Truss, forces: Mapping[str, float]) -> tuple[Matrix, Matrix]:
    """Stiffness of all joints without supports, and its change by the forces on the undeformed shape.

    OpenSees' corotational bars, first without and then with the forces as initial stress; the loads
    and reactions that balance the forces keep every joint where it is, soft springs keep the whole.
    Row d i + k belongs to direction k of the i-th joint of the file.  Both N/mm.
    """
    strain = max(abs(forces[m.name]) / (m.area_mm2 * m.modulus_MPa) for m in truss.members)
    scale = 1e-2 / strain  # so large that the difference of the two keeps its digits
    bare = _tangent(truss, {m.name: 0.0 for m in truss.members})
    loaded = _tangent(truss, {name: scale * force for name, force in forces.items()})
    spring = _soft_spring(truss)
    return bare - spring * np.eye(len(bare)), (loaded - bare) / scale


def _soft_spring(truss: Truss) -> float:
    return 1e-3 * min(m.area_mm2 * m.modulus_MPa / truss.length_mm(m) for m in truss.members)


def _tangent(truss: Truss, forces: Mapping[str, float]) -> Matrix:
    tags = begun(truss)
    dimension = len(next(iter(truss.joints.values())))
    for index, m in enumerate(truss.members, 1):
        ops.uniaxialMaterial("Elastic", 100_000 + index, m.modulus_MPa)
        strain = forces[m.name] / (m.area_mm2 * m.modulus_MPa)
        ops.uniaxialMaterial("InitStrainMaterial", index, 100_000 + index, strain)
        ops.element("corotTruss", index, tags[m.start], tags[m.end], m.area_mm2, index)
    ops.uniaxialMaterial("Elastic", 99_999, _soft_spring(truss))
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    for joint, tag in tags.items():
        _ground(truss.joints[joint], tag, dimension)
        ops.load(tag, *(-x for x in _pull(truss, joint, forces)))
    solve_once()
    A = np.array(ops.printA("-ret"))
    A = A.reshape(int(math.sqrt(len(A))), -1)
    rows = [row for tag in tags.values() for row in ops.nodeDOFs(tag)]
    assert max(abs(x) for tag in tags.values() for x in ops.nodeDisp(tag)) < 1e-6
    return A[np.ix_(rows, rows)]


def _ground(at: Vector, tag: int, dimension: int) -> None:
    """A spring to the ground in each direction, soft and 1 mm long."""
    for k in range(dimension):
        foot = 1000 * tag + k
        ops.node(foot, *(x - (k == j) for j, x in enumerate(at)))
        ops.fix(foot, *(1,) * dimension)
        ops.element("Truss", 10 * (100_000 + tag) + k, foot, tag, 1.0, 99_999)


def _pull(truss: Truss, joint: str, forces: Mapping[str, float]) -> list[float]:
    """What the members pull at a joint, N."""
    total = [0.0] * len(truss.joints[joint])
    for m in truss.members:
        if joint in (m.start, m.end):
            for k, cosine in enumerate(_cosines(truss, m)):
                total[k] += (1 if joint == m.start else -1) * forces[m.name] * cosine
    return total


@dataclass(frozen=True)
class Framed:
    """forces N and end moments N mm by member (tension and anticlockwise positive), rotations by joint."""

    forces: Mapping[str, float]
    end_moments: Mapping[str, tuple[float, float]]
    displacements: Mapping[str, Vector]
    rotations: Mapping[str, float]


def frame_model(truss: Truss, second_moments_mm4: Mapping[str, float], clamped: Collection[str] = ()) -> Framed:
    """A plane truss with rigid joints, solved by OpenSees' elastic beams; ``clamped`` joints cannot turn."""
    tags = begun(truss, freedoms=3)
    ops.geomTransf("Linear", 1)
    for index, m in enumerate(truss.members, 1):
        section = (m.area_mm2, m.modulus_MPa, second_moments_mm4[m.name])
        ops.element("elasticBeamColumn", index, tags[m.start], tags[m.end], *section, 1)
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    hold(truss, tags)
    for joint in clamped:
        ops.fix(tags[joint], 0, 0, 1)
    for joint, load in truss.loads.items():
        ops.load(tags[joint], *map(float, load), 0.0)
    solve_once()
    ends = {m.name: ops.eleResponse(index, "localForce") for index, m in enumerate(truss.members, 1)}
    moved = {joint: ops.nodeDisp(tag) for joint, tag in tags.items()}
    return Framed(
        forces={name: end[3] for name, end in ends.items()},
        end_moments={name: (end[2], end[5]) for name, end in ends.items()},
        displacements={joint: tuple(u[:2]) for joint, u in moved.items()},
        rotations={joint: u[2] for joint, u in moved.items()},
    )


def highest_load(truss: Truss, joint: str, freedom: int, step: float, steps: int) -> float:
    """Factor on the loads at the first limit point, by OpenSees' corotational bars.

    One coordinate of one joint moves on in equal steps, mm; a parabola through the highest three points
    gives the top.  AssertionError where no top comes within ``steps``.
    """
    tags = begun(truss)
    for index, m in enumerate(truss.members, 1):
        ops.uniaxialMaterial("Elastic", index, m.modulus_MPa)
        ops.element("corotTruss", index, tags[m.start], tags[m.end], m.area_mm2, index)
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    hold(truss, tags)
    for name, load in truss.loads.items():
        ops.load(tags[name], *map(float, load))
    ops.constraints("Transformation")
    ops.numberer("Plain")
    ops.system("FullGeneral")
    ops.test("NormUnbalance", 1e-10 * max(abs(x) for load in truss.loads.values() for x in load), 50)
    ops.algorithm("Newton")
    ops.integrator("DisplacementControl", tags[joint], freedom, step)
    ops.analysis("Static", "-noWarnings")
    factors = [0.0]
    for _ in range(steps):
        assert ops.analyze(1) == 0
        factors.append(ops.getLoadFactor(1))
        if factors[-1] < factors[-2]:
            a, b, c = factors[-3:]
            return b + (c - a) ** 2 / (8 * (2 * b - a - c))
    raise AssertionError("no limit point")
