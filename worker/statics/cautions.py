"""What a reader of the answer should know, in plain sentences."""

from __future__ import annotations

import numpy as np

from rubric.language import _
from rubric.wording import localised
from worker.statics import mechanisms
from worker.statics.equilibrium import Rigidity
from worker.statics.form import Form
from worker.statics.structure import Floats, Structure

NEARLY_A_MECHANISM = 10.0
"""Condition, over the square of the number of joints, from which a truss is called nearly a mechanism.

The condition of a sound girder grows with the square of its length, to about 0.14 of that square
for a Warren girder; two members that rise 1 in 49 to their common joint reach the limit.
"""

STIFFNESS_SPREAD = 1e6
"""Ratio of stiffnesses in a redundant truss from which a slip in a unit is likelier than intent."""

DIGITS_LOST = 1e7
"""Condition from which fewer than nine of sixteen digits can be trusted."""

OUT_OF_BALANCE = 1e-9
"""Residual from which the forces are called out of balance."""


def stable(structure: Structure, E: Floats, found: Rigidity, residual: float) -> tuple[str, ...]:
    """Cautions about a solved truss."""
    said = _lost_settlements(structure)
    if found.condition > NEARLY_A_MECHANISM * max(1, len(structure.joint_names)) ** 2:
        joint = structure.joint_names[mechanisms.softest(E, structure.dimension)]
        said.append(
            _(
                "The truss is stable, but nearly a mechanism: joint {joint} can move while the members "
                "hardly stretch (condition number {condition}). "
                "A small change of shape changes the forces a lot.",
                joint=joint,
                condition=localised(f"{found.condition:.1e}"),
            )
        )
    if found.condition > DIGITS_LOST:
        digits = max(0, 16 - int(np.log10(found.condition)))
        said.append(_("Rounding matters here: only about {digits} digits of the forces can be trusted.", digits=digits))
    if found.self_stress:
        said += _stiffness_spread(structure)
    if not residual <= OUT_OF_BALANCE:
        said.append(
            _(
                "Do not trust these forces: they are out of balance at a joint by {part} of the largest force.",
                part=localised(f"{residual:.1e}"),
            )
        )
    return tuple(said)


def mechanism(structure: Structure, E: Floats, why: Form) -> tuple[str, ...]:
    """Cautions about a mechanism: chiefly, when counting members would have missed it."""
    dof, columns = E.shape
    said = _lost_settlements(structure)
    m, r, n = len(structure.member_names), len(structure.held_joints), len(structure.joint_names)
    if why.missing_bars and columns >= dof:
        said.append(
            _(
                "Counting does not show this: {m} members and {r} held directions are enough for {n} joints. "
                "They are in the wrong places: one part has too many and another has too few.",
                m=m,
                r=r,
                n=n,
            )
        )
    if why.critical:
        said.append(
            _(
                "The shape is a critical form: {m} members and {r} held directions would hold these {n} joints better "
                "if one of them stood elsewhere. Look for members in one line, or reactions through one point. "
                "Move a joint, or add a bar.",
                m=m,
                r=r,
                n=n,
            )
        )
    return tuple(said)


def _stiffness_spread(structure: Structure) -> list[str]:
    """A stiffest member beyond reason stiffer than the weakest."""
    EA = structure.axial_stiffness
    if not len(EA) or EA.max() < STIFFNESS_SPREAD * EA.min():
        return []
    stiff, weak = (structure.member_names[int(pick(EA))] for pick in (np.argmax, np.argmin))
    return [
        _(
            "Member {stiff} is {times} times as stiff as member {weak}. Check the units of their areas and moduli.",
            stiff=stiff,
            times=localised(f"{EA.max() / EA.min():.1e}"),
            weak=weak,
        )
    ]


def _lost_settlements(structure: Structure) -> list[str]:
    """Settlements, or parts of them, in a direction in which nothing holds the joint."""
    if not structure.settlements.any():
        return []
    kept = np.zeros_like(structure.settlements)
    along = structure.held_settlements[:, None] * structure.held_directions
    np.add.at(kept, structure.held_joints, along)
    lost = np.abs(structure.settlements - kept).max(axis=1, initial=0.0)
    return [
        _(
            "The settlement of joint {name} is partly in a direction in which its support does not hold it; "
            "that part is left out.",
            name=name,
        )
        for name, part, whole in zip(
            structure.joint_names, lost, np.abs(structure.settlements).max(axis=1, initial=0.0), strict=True
        )
        if part > 1e-9 * whole
    ]
