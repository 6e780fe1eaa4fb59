"""Supports, loads, settlements and misfits of a truss that stands alone, and the working by hand."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterable, Iterator

from rubric.located import Mapping, Node, Scalar
from rubric.problems import Findings, quoted
from rubric.quantities import FORCE_UNITS, LENGTH_UNITS, number, quantity
from rubric.spelling import did_you_mean
from rubric.wording import figure
from worker.truss.fields import block, numbers, of_joints, one_number, shown
from worker.truss.joints import NOWHERE
from worker.truss.model import Member, Support, Vector, Working


def supports(tree: Mapping | None, known: Iterable[str], count: int, findings: Findings) -> dict[str, Support]:
    """What holds which joint; ``count`` is 2 in the plane, 3 in space."""
    found: dict[str, Support] = {}
    for name, node in of_joints(tree, known, findings):
        text = " ".join(node.text.split()) if isinstance(node, Scalar) else ""
        support = _in_space(text) if count == 3 else _in_plane(text)
        if support is not None:
            found[name] = support
            continue
        plane = "'pin', 'roller', 'roller y' or 'roller 30' (degrees up from x)"
        space = "'pin', 'roller' (holds z alone) or the directions held, such as 'holds x z'"
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
    for bar, node in _of_members(tree, bars, findings):
        what = "how much too long the member is (minus: too short)"
        misfit = one_number(node, LENGTH_UNITS, unit, what, findings)
        places = joints[bar.start], joints[bar.end]
        length = math.nan if NOWHERE in places else math.dist(*places)
        if misfit is not None and abs(misfit) > MOST_MISFIT * length:
            findings.add(
                node.place,
                shown(node),
                f"at most a tenth of the member's length, {figure(length * MOST_MISFIT / LENGTH_UNITS[unit])} {unit}",
                "give only what it is too long, not its whole length, or move a joint.",
            )
        elif misfit is not None:
            found[bar.name] = misfit
    return found


_DIRECTIONS = {"up": (0.0, 1.0), "down": (0.0, -1.0), "right": (1.0, 0.0), "left": (-1.0, 0.0)}


def working(
    tree: Mapping | None, known: Iterable[str], bars: Iterable[Member], unit: str, findings: Findings
) -> Working | None:
    """What the student worked out by hand."""
    if tree is None:
        return None
    for key, _ in tree.items:
        if key.text not in ("reactions", "forces"):
            findings.add(
                key.place,
                f"the unknown key {quoted(key.text)}",
                "'reactions' and 'forces'",
                did_you_mean(key.text, ["reactions", "forces"]),
            )
    reactions = block(tree, "reactions", "a: 50 up", findings)
    forces = block(tree, "forces", "a-b: 80 C", findings)
    return Working(
        {n: r for n, node in of_joints(reactions, known, findings) if (r := _reaction(node, unit, findings))},
        _own_forces(forces, bars, unit, findings),
    )


def _reaction(node: Node, unit: str, findings: Findings) -> Vector | None:
    """``50 up`` or ``50 up 20 left``, in N."""
    words = node.text.split() if isinstance(node, Scalar) else []
    total = [0.0, 0.0]
    pairs = list(zip(words[::2], words[1::2], strict=False))
    for size, direction in pairs:
        value = quantity(size, FORCE_UNITS, unit)
        if value is None or direction not in _DIRECTIONS:
            pairs = []
            break
        total = [t + value * d for t, d in zip(total, _DIRECTIONS[direction], strict=True)]
    if not pairs or len(words) % 2:
        findings.add(
            node.place,
            shown(node),
            "a force and a direction: up, down, left or right",
            "write for example '50 up' or '50 up 20 left'.",
        )
        return None
    return tuple(total)


def _of_members(tree: Mapping | None, bars: Iterable[Member], findings: Findings) -> Iterator[tuple[Member, Node]]:
    """Members named by their ends in either order."""
    by_ends = {frozenset((bar.start, bar.end)): bar for bar in bars}
    for key, node in tree.items if tree else ():
        ends = frozenset(unicodedata.normalize("NFC", part.strip()) for part in key.text.split("-"))
        if ends in by_ends:
            yield by_ends[ends], node
            continue
        findings.add(
            key.place,
            f"no member {quoted(key.text)}",
            "a member that the block 'members' names",
            did_you_mean(key.text, [bar.name for bar in by_ends.values()]),
        )


def _own_forces(tree: Mapping | None, bars: Iterable[Member], unit: str, findings: Findings) -> dict[str, float]:
    """``80.0 C``, ``62.5 T`` or ``0`` by member name, in N, tension positive."""
    found: dict[str, float] = {}
    for bar, node in _of_members(tree, bars, findings):
        force = _own_force(node.text.strip() if isinstance(node, Scalar) else "", unit)
        if force is None:
            findings.add(
                node.place,
                shown(node),
                "a force with T (tension) or C (compression), or 0",
                "write for example '80.0 C'.",
            )
        else:
            found[bar.name] = force
    return found


def _own_force(text: str, unit: str) -> float | None:
    sense = text[-1:] if text[-1:] in ("T", "C") else ""
    size = quantity(text.removesuffix(sense), FORCE_UNITS, unit)
    if size is None or size < 0 or (size > 0 and not sense):
        return None
    return -size if sense == "C" else size
