"""The joints of a truss file: names and coordinates."""

from __future__ import annotations

import math
import unicodedata
from itertools import combinations

from rubric.language import _, counted
from rubric.located import Mapping, Scalar, Sequence
from rubric.problems import Findings, quoted
from rubric.quantities import LENGTH_UNITS
from worker.truss.fields import numbers
from worker.truss.model import Vector

MOST_JOINTS = 200
LONGEST_NAME = 40
FARTHEST_MM = 1e7
"""10 km from the origin: beyond any truss that a pupil means."""

NEAR = 1e-6
"""Joints nearer than this part of the largest coordinate are at the same place."""

NOWHERE: Vector = (math.nan, math.nan)
"""The place of a joint whose coordinates could not be read."""

_JOINERS = "\N{ZERO WIDTH NON-JOINER}\N{ZERO WIDTH JOINER}"
"""Invisible, but some scripts are not spelt right without them."""


def is_name(text: str) -> bool:
    """Whether a joint may be called so: no spaces, no dashes, nothing invisible."""
    return bool(text) and all(c in _JOINERS or (c.isprintable() and not c.isspace() and c != "-") for c in text)


def _check_name(key: Scalar, name: str, findings: Findings) -> None:
    if not name or any(c.isspace() or c == "-" for c in name):
        found = _("the joint name {name}", name=quoted(name)) if name else _("a joint without a name")
        findings.add(key.place, found, _("a name without spaces or dashes"), _("call it for example 'a1'."))
    elif not is_name(name):
        findings.add(
            key.place,
            _("the joint name {name}, which holds invisible characters", name=quoted(name)),
            _("characters that can be seen"),
            _("type the name again by hand."),
        )
    elif len(name) > LONGEST_NAME:
        findings.add(
            key.place,
            _("a joint name of {count} letters", count=len(name)),
            _("at most {count}", count=LONGEST_NAME),
            _("shorten it."),
        )


def joints(tree: Mapping | None, unit: str, space: bool, findings: Findings) -> dict[str, Vector]:
    """Names and coordinates in mm: two of each, or, where ``space`` is allowed, as many as most joints have.

    A joint whose problem is noted stays known, without coordinates, so that the members that
    meet there are not told off too.
    """
    found: dict[str, Vector] = {}
    if tree is None:
        return found
    count = _coordinates(tree) if space else 2
    what = _("the coordinates of a joint, as many as most joints have") if space else _("the coordinates of a joint")
    for key, node in tree.items[:MOST_JOINTS]:
        name = unicodedata.normalize("NFC", key.text)
        _check_name(key, name, findings)
        place = numbers(node, count, LENGTH_UNITS, unit, what, findings)
        if place is not None and max(map(abs, place)) > FARTHEST_MM:
            findings.add(
                node.place,
                _("a joint more than 10 km away"),
                _("a model truss"),
                _("check the numbers and 'units'."),
            )
            place = None
        if name in found:
            findings.add(
                key.place,
                _("{name} a second time", name=quoted(name)),
                _("each joint once"),
                _("rename one of the two."),
            )
        found.setdefault(name, place if place is not None else NOWHERE)
    if len(tree.items) > MOST_JOINTS:
        findings.add(
            tree.items[MOST_JOINTS][0].place,
            counted("{count} joint", "{count} joints", len(tree.items)),
            _("at most {count}", count=MOST_JOINTS),
            _("take joints out."),
        )
    _apart(tree, found, findings)
    return found


def dimension(found: dict[str, Vector]) -> int:
    """2 for a plane truss, 3 for a space truss."""
    return next((len(place) for place in found.values() if place is not NOWHERE), 2)


def _coordinates(tree: Mapping) -> int:
    """3 where most joints have three coordinates, else 2."""
    counts = [len(node.items) for _, node in tree.items if isinstance(node, Sequence)]
    return 3 if counts.count(3) > counts.count(2) else 2


def _apart(tree: Mapping, found: dict[str, Vector], findings: Findings) -> None:
    """No two joints at the same place."""
    known = {name: place for name, place in found.items() if place is not NOWHERE}
    near = NEAR * max((abs(c) for place in known.values() for c in place), default=0.0)
    for (first, p), (second, q) in combinations(known.items(), 2):
        if math.dist(p, q) <= near:
            findings.add(
                tree.key_place(second),
                _("joint {second} at the place of joint {first}", second=quoted(second), first=quoted(first)),
                _("each joint at a place of its own"),
                _("move it, or use one joint for both."),
            )
