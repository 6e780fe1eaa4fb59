"""From a truss to the same truss with rigid joints, and how far the two differ.

The forces of a truss assume hinges.  Glued joints are none: members bend a little where joints turn.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

import numpy as np

from rubric.language import _
from worker.frame.stiffness import beams, freedoms, reactions, solved, stretches_and_turns
from worker.stability.freedoms import by_joint, refuse_unknown_stiffness
from worker.statics import solve
from worker.statics.structure import Floats, Structure
from worker.truss.model import Truss, Vector

BENDING_MATTERS = 0.3
"""Share of bending stress from which a reader is warned.

A choice of this project.  Bending from rigid joints is commonly left out where members are longer than
ten times their depth (common practice); girders of that kind stay below this share.
"""

CHANGE_MATTERS = 0.1
"""Change of an axial force, over the largest, from which a reader is warned.  A choice of this project."""


@dataclass(frozen=True)
class FrameSolution:
    """A truss solved with rigid joints.

    forces:         axial force N by member, tension positive
    end_moments:    N mm by member, at its start and its end, on the member, anticlockwise positive
    reactions:      N on the truss by supported joint
    displacements:  mm by joint
    rotations:      radians by joint, anticlockwise positive
    bending_MPa:    largest bending stress by member, without sign
    bending_share:  largest bending stress over the largest axial stress of the hinged truss (of the frame, where
                    the hinged truss is a mechanism); None where nothing is pulled or pushed
    bent_member:    the member with the largest bending stress; None where nothing bends
    largest_change: largest change of an axial force against the hinged truss, over the largest force there;
                    None where the hinged truss is a mechanism or carries nothing
    warning:        a sentence where the hinged truss says too little, else None
    """

    forces: Mapping[str, float]
    end_moments: Mapping[str, tuple[float, float]]
    reactions: Mapping[str, Vector]
    displacements: Mapping[str, Vector]
    rotations: Mapping[str, float]
    bending_MPa: Mapping[str, float]
    bending_share: float | None
    bent_member: str | None
    largest_change: float | None
    warning: str | None


def frame(
    truss: Truss,
    second_moments_mm4: Mapping[str, float],
    half_depths_mm: Mapping[str, float],
    clamped: Collection[str] = (),
) -> FrameSolution:
    """Solve a plane truss as a frame with rigid joints, loads at the joints; settlements and misfits count.

    By member: second moment of area for bending in the plane, mm4, and distance from the axis to the
    edge, mm.  ``clamped`` joints cannot turn; supports hold no rotation otherwise.  Joints where members
    end alone turn with them.  Raises StiffnessMissing where an area or modulus is unknown, ValueError for
    a space truss, a second moment that is missing or not positive, or supports that do not hold the frame.
    """
    structure = Structure.of(truss)
    refuse_unknown_stiffness(structure)
    if structure.dimension != 2:
        raise ValueError("rigid joints are computed for plane trusses alone; this truss has three coordinates")
    modulus = {m.name: m.modulus_MPa or 0.0 for m in truss.members}
    EI = np.array([modulus[name] * _positive(second_moments_mm4, name) for name in structure.member_names])
    k, G = beams(structure, EI), stretches_and_turns(structure)
    u, found = solved(structure, k, G, freedoms(structure, clamped))
    ends = dict(zip(structure.member_names, found.tolist(), strict=True))
    held = by_joint(truss.joints, structure, reactions(structure, G, found))
    return _described(truss, structure, ends, held, u.reshape(-1, 3), second_moments_mm4, half_depths_mm)


def _positive(second_moments_mm4: Mapping[str, float], name: str) -> float:
    value = second_moments_mm4.get(name, 0.0)
    if not 0 < value < float("inf"):
        raise ValueError(f"member {name} needs a second moment of area above 0 mm4; found {value:g}")
    return value


def _described(
    truss: Truss,
    structure: Structure,
    ends: Mapping[str, list[float]],
    held: Mapping[str, Vector],
    u: Floats,
    second_moments_mm4: Mapping[str, float],
    half_depths_mm: Mapping[str, float],
) -> FrameSolution:
    forces = {m.name: ends[m.name][0] for m in truss.members}
    first = {
        name: structure.joint_names[row]
        for name, row in zip(structure.member_names, structure.ends[:, 0].tolist(), strict=True)
    }
    moments = {m.name: _by_ends(ends[m.name], turned=m.start != first[m.name]) for m in truss.members}
    bending = {name: max(map(abs, moments[name])) * half_depths_mm[name] / second_moments_mm4[name] for name in forces}
    hinged = solve(truss).forces
    axial = max((abs((hinged or forces)[m.name]) / (m.area_mm2 or 1.0) for m in truss.members), default=0.0)
    bent = max(bending, key=bending.__getitem__, default=None)
    share = bending[bent] / axial if axial and bent is not None else None
    change = _largest_change(hinged, forces)
    moved = dict(zip(structure.joint_names, u.tolist(), strict=True))
    return FrameSolution(
        forces=forces,
        end_moments=moments,
        reactions={joint: held[joint] for joint in truss.supports},
        displacements={joint: tuple(moved[joint][:2]) for joint in truss.joints},
        rotations={joint: moved[joint][2] for joint in truss.joints},
        bending_MPa=bending,
        bending_share=share,
        bent_member=bent if bent is not None and bending[bent] > 0 else None,
        largest_change=change,
        warning=_warning(share, bent, change),
    )


def _by_ends(end: list[float], turned: bool) -> tuple[float, float]:
    """End moments in the order of the file, which may name the ends the other way round."""
    return (end[2], end[1]) if turned else (end[1], end[2])


def _largest_change(hinged: Mapping[str, float], forces: Mapping[str, float]) -> float | None:
    largest = max(map(abs, hinged.values()), default=0.0)
    return max(abs(forces[name] - force) for name, force in hinged.items()) / largest if largest else None


def _warning(share: float | None, bent: str | None, change: float | None) -> str | None:
    """Why the hinged forces alone do not tell the whole story."""
    if share is not None and share > BENDING_MATTERS:
        return _(
            "Glued joints are not hinges: they bend the members. In member {member} bending adds stress of "
            "{share} % of the largest stress from pulling and pushing. Longer or thinner members bend less.",
            member=bent,
            share=f"{100 * share:.0f}",
        )
    if change is not None and change > CHANGE_MATTERS:
        return _(
            "Glued joints are not hinges: with stiff joints the force in a member changes by "
            "{change} % of the largest force.",
            change=f"{100 * change:.0f}",
        )
    return None
