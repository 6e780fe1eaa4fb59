"""Supports, loads, settlements and misfits of a truss that stands alone."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from rubric.language import _
from rubric.located import Mapping, Scalar
from rubric.problems import Findings
from rubric.quantities import LENGTH_UNITS, number
from rubric.spelling import did_you_mean
from rubric.wording import plain_figure
from worker.truss.fields import numbers, of_joints, of_members, one_number, shown
from worker.truss.joints import NOWHERE
from worker.truss.model import Member, Support, Vector


def supports(tree: Mapping | None, known: Iterable[str], count: int, findings: Findings) -> dict[str, Support]:
    """What holds which joint; ``count`` is 2 in the plane, 3 in space."""
    found: dict[str, Support] = {}
    for name, node in of_joints(tree, known, findings):
        text = " ".join(node.text.split()) if isinstance(node, Scalar) else ""
        support = _in_space(text) if count == 3 else _in_plane(text)
        if support is not None:
            found[name] = support
            continue
        plane = _("'pin', 'roller', 'roller y' or 'roller 30' (degrees up from x)")
        space = _("'pin', 'roller' (holds z alone) or the directions held, such as 'holds x z'")
        words = ["pin", "roller", *(["holds z"] if count == 3 else [])]
        findings.add(node.place, shown(node), space if count == 3 else plane, did_you_mean(text, words))
    return found


def _in_plane(text: str) -> Support | None:
    slope = re.fullmatch(r"roller (\S+)", text)
    angle = number(slope[1]) if slope else None
    if text == "pin":
        return Support.pin()
    if text in ("roller", "roller x"):
        return Support.roller(0.0, text)
    if text == "roller y":
        return Support.roller(90.0, text)
    return Support.roller(angle, text) if angle is not None and abs(angle) <= 360 else None


def _in_space(text: str) -> Support | None:
    """A pin holds x, y and z; a roller stands on level ground and holds z; or the axes are named."""
    word, *axes = text.split() or [""]
    if text in ("pin", "roller"):
        return Support.in_space("xyz" if text == "pin" else "z", text)
    if word != "holds" or not axes or len(set(axes)) < len(axes) or not set(axes) <= set("xyz"):
        return None
    return Support.in_space("".join(sorted(axes)), text)


def vectors(
    tree: Mapping | None,
    known: Iterable[str],
    count: int,
    units: dict[str, float],
    unit: str,
    what: str,
    findings: Findings,
) -> dict[str, Vector]:
    """Loads or settlements by joint, with ``count`` components."""
    read = {name: numbers(node, count, units, unit, what, findings) for name, node in of_joints(tree, known, findings)}
    return {name: value for name, value in read.items() if value is not None}


MOST_MISFIT = 0.1
"""Part of a member's length: beyond it a shape is meant that the joints do not show."""


def misfits(
    tree: Mapping | None, bars: Iterable[Member], joints: dict[str, Vector], unit: str, findings: Findings
) -> dict[str, float]:
    """What members are cut too long (positive) or too short, in mm by member name."""
    found: dict[str, float] = {}
    for bar, node in of_members(tree, bars, findings):
        what = _("how much too long the member is (minus: too short)")
        misfit = one_number(node, LENGTH_UNITS, unit, what, findings)
        places = joints[bar.start], joints[bar.end]
        length = math.nan if NOWHERE in places else math.dist(*places)
        if misfit is not None and abs(misfit) > MOST_MISFIT * length:
            findings.add(
                node.place,
                shown(node),
                _(
                    "at most a tenth of the member's length, {length}",
                    length=f"{plain_figure(length * MOST_MISFIT / LENGTH_UNITS[unit])} {unit}",
                ),
                _("give only what it is too long, not its whole length, or move a joint."),
            )
        elif misfit is not None:
            found[bar.name] = misfit
    return found
