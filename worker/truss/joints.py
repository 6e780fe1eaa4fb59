"""The joints of a truss file: names and coordinates."""

from __future__ import annotations

import math
import unicodedata

from rubric.located import Mapping, Scalar
from rubric.problems import Findings, quoted
from rubric.quantities import LENGTH_UNITS
from worker.truss.fields import numbers
from worker.truss.model import Vector

MOST_JOINTS = 200
LONGEST_NAME = 40
FARTHEST_MM = 1e7
"""10 km from the origin: beyond any truss that a pupil means."""

_JOINERS = "\N{ZERO WIDTH NON-JOINER}\N{ZERO WIDTH JOINER}"
"""Invisible, but some scripts are not spelt right without them."""


def name_of(key: Scalar, findings: Findings) -> str | None:
    """A joint's name, or None (noted): no spaces, no dashes, nothing invisible, not too long."""
    name = unicodedata.normalize("NFC", key.text)
    if not name or any(c.isspace() or c == "-" for c in name):
        found = f"the joint name {quoted(name)}" if name else "a joint without a name"
        findings.add(key.place, found, "a name without spaces or dashes", "call it for example 'a1'.")
    elif any(not c.isprintable() and c not in _JOINERS for c in name):
        findings.add(
            key.place,
            f"the joint name {quoted(name)}, which holds invisible characters",
            "characters that can be seen",
            "type the name again by hand.",
        )
    elif len(name) > LONGEST_NAME:
        findings.add(key.place, f"a joint name of {len(name)} letters", f"at most {LONGEST_NAME}", "shorten it.")
    else:
        return name
    return None


def joints(tree: Mapping | None, unit: str, findings: Findings) -> dict[str, Vector]:
    """Names and coordinates in mm."""
    found: dict[str, Vector] = {}
    if tree is None:
        return found
    for key, node in tree.items[:MOST_JOINTS]:
        name = name_of(key, findings)
        place = numbers(node, 2, LENGTH_UNITS, unit, "the coordinates of a joint", findings)
        if place is not None and max(map(abs, place)) > FARTHEST_MM:
            findings.add(node.place, "a joint more than 10 km away", "a model truss", "check the numbers and 'units'.")
        elif name in found:
            findings.add(key.place, f"{quoted(name)} a second time", "each joint once", "rename one of the two.")
        elif name is not None:
            found[name] = place if place is not None else (math.nan, math.nan)
    if len(tree.items) > MOST_JOINTS:
        findings.add(
            tree.items[MOST_JOINTS][0].place, f"{len(tree.items)} joints", f"at most {MOST_JOINTS}", "take joints out."
        )
    _apart(tree, found, findings)
    return found


def _apart(tree: Mapping, found: dict[str, Vector], findings: Findings) -> None:
    """No two joints at the same place."""
    known = {name: place for name, place in found.items() if not any(map(math.isnan, place))}
    if len(known) < 2:
        return
    near = 1e-6 * max(1e-9, max(abs(c) for place in known.values() for c in place))
    by_cell: dict[tuple[int, ...], str] = {}
    for name, place in known.items():
        cell = tuple(round(c / near) for c in place)
        if cell in by_cell:
            findings.add(
                tree.key_place(name),
                f"joint {quoted(name)} at the place of joint {quoted(by_cell[cell])}",
                "each joint at a place of its own",
                "move it, or use one joint for both.",
            )
        by_cell.setdefault(cell, name)
