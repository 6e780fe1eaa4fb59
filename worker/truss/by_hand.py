"""The block ``working``: what the student worked out by hand.

In: the tree of the block, the joints and members it may name.  Out: a Working, each force as it was
written.  Whether it is right is for ``worker.working``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from rubric.language import _
from rubric.located import Mapping, Node, Scalar, Sequence
from rubric.problems import Findings, quoted
from rubric.quantities import FORCE_UNITS, STANDARD_GRAVITY, quantity
from rubric.spelling import did_you_mean
from worker.truss.fields import block, of_joints, of_members, shown
from worker.truss.model import Member, Working, Written

PARTS = ("reactions", "forces", "zero members")

MASSES_AS_WEIGHT = {"g": STANDARD_GRAVITY / 1000, "kg": STANDARD_GRAVITY}
"""A mass where a force is asked is a slip to be told and marked, no reason to refuse the file."""

_DIRECTIONS = {"up": ("y", 1.0), "down": ("y", -1.0), "right": ("x", 1.0), "left": ("x", -1.0)}
_SENSES = {"T": 1.0, "C": -1.0}
_SIZE = re.compile(r"\+?([0-9.]+)((?:[eE][+-]?[0-9]+)?)\s*([A-Za-z]*)")


def working(
    tree: Mapping | None, known: Iterable[str], bars: Iterable[Member], unit: str, findings: Findings
) -> Working | None:
    """What the student worked out by hand; None where the block is left out."""
    if tree is None:
        return None
    for key, __ in tree.items:
        if key.text not in PARTS:
            findings.add(
                key.place,
                _("the unknown key {key}", key=quoted(key.text)),
                _("'reactions', 'forces' or 'zero members'"),
                did_you_mean(key.text, PARTS),
            )
    reactions = block(tree, "reactions", "a: 50 up", findings)
    forces = block(tree, "forces", "a-b: 80 C", findings)
    members = tuple(bars)
    return Working(
        reactions={
            f"{name} {axis}": written
            for name, node in of_joints(reactions, known, findings)
            for axis, written in _reaction(node, unit, findings)
        },
        forces=dict(_forces(forces, members, unit, findings)),
        zeros=_zeros(tree.get("zero members"), members, findings),
    )


def _reaction(node: Node, unit: str, findings: Findings) -> Iterator[tuple[str, Written]]:
    """``50 up``, ``50 N up 20 left`` or ``0``: by direction, x or y."""
    text = " ".join(node.text.split()) if isinstance(node, Scalar) else ""
    found: dict[str, Written] = {}
    pairs = re.findall(r"(\S+(?: \S+)?) (up|down|left|right)(?: |$)", text)
    for size, word in pairs:
        axis, sign = _DIRECTIONS[word]
        written = _written(size, unit, sign, word)
        if written is not None and axis not in found:
            found[axis] = written
    nothing = _written(text, unit, 1.0, "")
    if nothing is not None and nothing.force_N == 0:
        found = {"x": nothing, "y": nothing}
    elif len(found) != len(pairs) or not pairs or " ".join(f"{s} {w}" for s, w in pairs) != text:
        findings.add(
            node.place,
            shown(node),
            _("a force and a direction: up, down, left or right"),
            _("write for example '50 up' or '50 up 20 left'."),
        )
        return
    yield from found.items()


def _forces(
    tree: Mapping | None, bars: Iterable[Member], unit: str, findings: Findings
) -> Iterator[tuple[str, Written]]:
    """``80.0 C``, ``62.5 kN T``, ``0`` or ``T`` alone, by member name."""
    for bar, node in of_members(tree, bars, findings):
        text = node.text.strip() if isinstance(node, Scalar) else ""
        letter = text[-1:] if text[-1:] in _SENSES else ""
        sense = _SENSES.get(letter, 1.0)
        alone = Written(letter, None, sense) if letter and letter == text else None
        written = alone or _written(text.removesuffix(letter), unit, sense, letter)
        if written is None or (written.force_N and not letter):
            findings.add(
                node.place,
                shown(node),
                _("a force with T (tension) or C (compression), T or C alone, or 0"),
                _("write for example '{example}'.", example="80.0 C"),
            )
        else:
            yield bar.name, written


def _written(size: str, unit: str, sign: float, word: str) -> Written | None:
    """A number, with a unit or without; None where it is no such thing."""
    match = _SIZE.fullmatch(size.strip())
    units = FORCE_UNITS | MASSES_AS_WEIGHT
    value = quantity(size.strip(), units, unit) if match else None
    if match is None or value is None:
        return None
    digits, power, own = match.groups()
    step = 10.0 ** -len(digits.partition(".")[2]) * float(f"1{power}") * units[own or unit]
    plain = digits.replace(".", "").lstrip("0")
    figures = len(plain if "." in digits else plain.rstrip("0")) or 1
    said = f"{digits}{power} {own or unit} {word if value else ''}".strip()
    return Written(said, sign * value if value else 0.0, sign if value else 0.0, figures, step, own in MASSES_AS_WEIGHT)


def _zeros(node: Node | None, bars: Iterable[Member], findings: Findings) -> tuple[str, ...] | None:
    """``[b-d, c-e]``, ``b-d, c-e`` or ``none``: the members named as zero members."""
    if node is None or (isinstance(node, Scalar) and not node.text):
        return None
    names = _listed(node)
    if names is None:
        findings.add(
            node.place,
            shown(node),
            _("the names of members in brackets, or 'none'"),
            _("write for example '{example}'.", example="zero members: [b-d, c-e]"),
        )
        return None
    tree = Mapping(tuple((name, Scalar("", name.place)) for name in names), node.place)
    return tuple(bar.name for bar, __ in of_members(tree, bars, findings))


def _listed(node: Node) -> list[Scalar] | None:
    if isinstance(node, Scalar):
        parts = [Scalar(part.strip(), node.place) for part in node.text.split(",")]
        return [] if node.text == "none" else parts
    if isinstance(node, Mapping):  # the rows of a table, or braces in place of brackets
        names = [key for key, value in node.items if isinstance(value, Scalar) and not value.text]
        return names if len(names) == len(node.items) else None
    names = [item for item in node.items if isinstance(item, Scalar) and item.text]
    return names if isinstance(node, Sequence) and len(names) == len(node.items) else None
