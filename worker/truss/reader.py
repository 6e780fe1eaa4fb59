"""Bytes of a truss file -> Truss, or every problem of the file.

A file of a class is read with its brief: the brief sets supports and loads, and each member
names a stick of the kit.  A file that stands alone brings its own supports and loads.
"""

from __future__ import annotations

from dataclasses import replace

from rubric.brief import Brief
from rubric.language import _
from rubric.located import Mapping, Node, Scalar, decode, read_yaml
from rubric.problems import Findings, Problem, Refused, quoted
from rubric.quantities import FORCE_UNITS, LENGTH_UNITS
from rubric.spelling import did_you_mean, nearest
from worker.truss.actions import misfits, supports, vectors
from worker.truss.by_hand import working
from worker.truss.fields import block, choice
from worker.truss.given import with_given
from worker.truss.joints import NOWHERE, dimension, joints
from worker.truss.members import members
from worker.truss.model import Truss
from worker.truss.placing import place
from worker.truss.table import read_table, separator

KEYS = ("title", "units", "force", "joints", "members", "supports", "settlements", "misfits", "loads", "working")
SET_BY_BRIEF = ("supports", "settlements", "misfits", "loads")
LONGEST_TITLE = 100


def read_truss(data: bytes, brief: Brief | None = None) -> Truss:
    """Read a truss file, YAML or CSV.

    With a ``brief`` the truss carries the brief's supports and one side's share of the target
    load; without one, what the file says.

    Raises
    ------
    Refused
        With all problems of the file.
    """
    findings = Findings()
    truss = _read(data, brief, findings)
    findings.settle()
    return truss


def understood(data: bytes, brief: Brief) -> tuple[Truss | None, tuple[Problem, ...]]:
    """What can be read of a file of a class that is still being written, and every problem of it.

    Of a truss with problems only what can be drawn is left; None where nothing can be read at all.
    """
    findings, truss = Findings(), None
    try:
        truss = _read(data, brief, findings)
        findings.settle()
    except Refused as refused:
        return (_drawable(truss) if truss else None), refused.problems
    return truss, ()


def _drawable(truss: Truss) -> Truss:
    """Without joints whose place could not be read, and what hangs on them."""
    joints = {name: place for name, place in truss.joints.items() if place is not NOWHERE}
    return replace(
        truss,
        joints=joints,
        members=tuple(m for m in truss.members if m.start in joints and m.end in joints),
        supports={name: support for name, support in truss.supports.items() if name in joints},
        loads={name: load for name, load in truss.loads.items() if name in joints},
    )


def _read(data: bytes, brief: Brief | None, findings: Findings) -> Truss:
    text = decode(data)
    between = separator(text)
    tree = read_yaml(text, findings) if between is None else read_table(text, between, findings)
    if brief is not None and brief.problem is not None:
        tree = with_given(tree, brief.problem, findings)
    tree = _known_keys(tree, brief is not None, findings)
    truss = _truss(tree, brief, findings)
    if brief is not None:
        truss = place(truss, brief, tree.key_place("joints"), findings)
    return truss


def _known_keys(tree: Mapping, with_brief: bool, findings: Findings) -> Mapping:
    """Note unknown and missing blocks; a block misspelt is read on as the one it must be."""
    allowed = [key for key in KEYS if not (with_brief and key in SET_BY_BRIEF)]
    items = []
    for key, value in tree.items:
        meant = key
        if key.text not in KEYS:
            findings.add(
                key.place,
                _("the unknown key {key}", key=quoted(key.text)),
                _("a block of the truss file"),
                did_you_mean(key.text, allowed),
            )
            near = nearest(key.text, allowed)
            meant = Scalar(near, key.place) if near and tree.get(near) is None else key
        elif key.text not in allowed:
            findings.add(
                key.place,
                _("a block {name}", name=quoted(key.text)),
                _("supports and loads as the brief sets them"),
                _("take the block {name} out.", name=quoted(key.text)),
            )
        items.append((meant, value))
    spelt = Mapping(tuple(items), tree.place)
    _needed(spelt, with_brief, findings)
    return spelt


def _needed(tree: Mapping, with_brief: bool, findings: Findings) -> None:
    examples = {"joints": "a: [0, 0]", "members": "a-b: square5"} | ({} if with_brief else {"supports": "a: pin"})
    for name, example in examples.items():
        node = tree.get(name)
        if node is None or _is_empty(node):
            mend = _("write '{name}:' and below it '  {example}'.", name=name, example=example)
            if name == "supports":
                mend += " " + _("A file of a class has none: solve it with its brief.")
            findings.add(
                tree.place if node is None else tree.key_place(name),
                _("no {name}", name=name),
                _("a block '{name}' with a line for each, such as '{example}'", name=name, example=example),
                mend,
            )


def _is_empty(node: Node) -> bool:
    return not (node.text if isinstance(node, Scalar) else node.items)


def _truss(tree: Mapping, brief: Brief | None, findings: Findings) -> Truss:
    unit = choice(tree, "units", LENGTH_UNITS, "mm", findings)
    force = choice(tree, "force", FORCE_UNITS, "N", findings)
    found = joints(block(tree, "joints", "a: [0, 0]", findings), unit, brief is None, findings)
    stock = brief.stock if brief else None
    most = brief.most_sticks if brief else 3
    bars = members(block(tree, "members", "a-b: square5", findings), found, stock, most, findings)
    truss = Truss(
        joints=found,
        members=bars,
        title=_title(tree, findings),
        working=working(block(tree, "working", "forces: {a-b: 80 C}", findings), found, bars, force, findings),
        length_unit=unit,
        force_unit=force,
    )
    if brief is not None:
        return truss
    settled = block(tree, "settlements", "b: [0, -2 mm]", findings)
    loaded = block(tree, "loads", "c: [0, -20]", findings)
    misfitting = block(tree, "misfits", "a-b: 2 mm", findings)
    count = dimension(found)
    return replace(
        truss,
        supports=supports(block(tree, "supports", "a: pin", findings), found, count, findings),
        settlements=vectors(settled, found, count, LENGTH_UNITS, unit, _("a settlement"), findings),
        misfits=misfits(misfitting, bars, found, unit, findings),
        loads=vectors(loaded, found, count, FORCE_UNITS, force, _("a load"), findings),
    )


def _title(tree: Mapping, findings: Findings) -> str:
    node = tree.get("title")
    if node is None:
        return ""
    if isinstance(node, Scalar) and len(node.text) <= LONGEST_TITLE:
        return node.text.strip()
    if isinstance(node, Scalar):
        found, mend = _("a title of {count} letters", count=len(node.text)), _("shorten it.")
    else:
        found, mend = _("a list or a block"), _("write it as words on one line, in quotes.")
    findings.add(node.place, found, _("one line of at most {count} letters", count=LONGEST_TITLE), mend)
    return ""
