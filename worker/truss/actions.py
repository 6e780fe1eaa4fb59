"""Supports, loads and settlements of a truss that stands alone, and the working by hand."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from rubric.located import Mapping, Node, Scalar
from rubric.problems import Findings, quoted
from rubric.quantities import FORCE_UNITS, number, quantity
from rubric.spelling import did_you_mean
from worker.truss.fields import block, numbers, of_joints, shown
from worker.truss.model import Member, Support, Vector, Working


def supports(tree: Mapping | None, known: Iterable[str], findings: Findings) -> dict[str, Support]:
    """What holds which joint."""
    found: dict[str, Support] = {}
    for name, node in of_joints(tree, known, findings):
        text = " ".join(node.text.split()) if isinstance(node, Scalar) else ""
        slope = re.fullmatch(r"roller (\S+)", text)
        angle = number(slope[1]) if slope else None
        if text == "pin":
            found[name] = Support.pin()
        elif text in ("roller", "roller x"):
            found[name] = Support.roller(0.0, text)
        elif text == "roller y":
            found[name] = Support.roller(90.0, text)
        elif angle is not None and abs(angle) <= 360:
            found[name] = Support.roller(angle, text)
        else:
            findings.add(
                node.place,
                shown(node),
                "'pin', 'roller', 'roller y' or 'roller 30' (degrees up from x)",
                did_you_mean(text, ["pin", "roller"]),
            )
    return found


def vectors(
    tree: Mapping | None, known: Iterable[str], units: dict[str, float], unit: str, what: str, findings: Findings
) -> dict[str, Vector]:
    """Loads or settlements by joint."""
    read = {name: numbers(node, 2, units, unit, what, findings) for name, node in of_joints(tree, known, findings)}
    return {name: value for name, value in read.items() if value is not None}


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
        _own_forces(forces, list(bars), unit, findings),
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


def _own_forces(tree: Mapping | None, bars: list[Member], unit: str, findings: Findings) -> dict[str, float]:
    """``80.0 C``, ``62.5 T`` or ``0`` by member name, in N, tension positive."""
    by_ends = {frozenset((bar.start, bar.end)): bar.name for bar in bars}
    found: dict[str, float] = {}
    for key, node in tree.items if tree else ():
        ends = frozenset(unicodedata.normalize("NFC", part.strip()) for part in key.text.split("-"))
        name = by_ends.get(ends)
        if name is None:
            findings.add(
                key.place,
                f"no member {quoted(key.text)}",
                "a member that the block 'members' names",
                did_you_mean(key.text, by_ends.values()),
            )
            continue
        force = _own_force(node.text.strip() if isinstance(node, Scalar) else "", unit)
        if force is None:
            findings.add(
                node.place,
                shown(node),
                "a force with T (tension) or C (compression), or 0",
                "write for example '80.0 C'.",
            )
        else:
            found[name] = force
    return found


def _own_force(text: str, unit: str) -> float | None:
    sense = text[-1:] if text[-1:] in ("T", "C") else ""
    size = quantity(text.removesuffix(sense), FORCE_UNITS, unit)
    if size is None or size < 0 or (size > 0 and not sense):
        return None
    return -size if sense == "C" else size
