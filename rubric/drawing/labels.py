"""Room for words: candidate places, the first free one, or none at all."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from rubric.drawing.boxes import Box, Space, text_width
from rubric.drawing.palette import INK, TEXT
from rubric.drawing.svg import Point, words

_AIR = 1.2
"""Kept free around every label."""
_LEADING = 3.0
"""More between the lines of one block."""
_LINE = 0.72
"""Height of capitals and figures over the size of the text, with a little room."""
_TURNS = sorted((k * math.pi / 8 for k in range(-7, 9)), key=abs)


@dataclass(frozen=True)
class Label:
    """A line of text and how it looks."""

    text: str
    size: float = TEXT
    colour: str = INK
    bold: bool = False

    @cached_property
    def width(self) -> float:
        return text_width(self.text, self.size) * (1.08 if self.bold else 1.0)

    @property
    def height(self) -> float:
        return _LINE * self.size

    def box(self, at: Point, axis: Point = (1.0, 0.0)) -> Box:
        """The room it takes when centred on ``at`` and running along ``axis``."""
        return Box(at, self.width / 2 + _AIR, self.height / 2 + _AIR, axis)

    def drawn(self, box: Box) -> str:
        """The text in that room."""
        turned = math.degrees(math.atan2(box.axis[1], box.axis[0]))
        weight = "bold" if self.bold else None
        size = None if self.size == TEXT else self.size
        return words(self.text, box.at, turned, font_size=size, font_weight=weight, fill=self.colour)


def placed(label: Label, places: Iterable[tuple[Point, Point]], space: Space) -> str:
    """The label at the first free place, which is then taken; nothing where none is free.

    ``places`` are pairs of a centre and the direction the text runs in.
    """
    along, across, edge, free = label.width / 2 + _AIR, label.height / 2 + _AIR, space.wide - 2, space.free
    for at, axis in places:
        box = Box(at, along, across, axis)
        bounds = box.bounds
        if bounds[0] > 2 and bounds[2] < edge and free(box):
            space.write(box)
            return label.drawn(box)
    return ""


def stacked(rows: list[Label], centres: Iterable[Point], space: Space) -> str:
    """Lines of text under one another about the first free centre; nothing where none is free."""
    heights = [row.height + 2 * _AIR + _LEADING for row in rows]
    high, wide = sum(heights) - _LEADING, max(row.width for row in rows) + 2 * _AIR
    for x, y in centres:
        box = Box((x, y), wide / 2, high / 2)
        left, _, right, _ = box.bounds
        if left > 2 and right < space.wide - 2 and space.free(box):
            space.write(box)
            tops = [y - high / 2 + sum(heights[:i]) for i in range(len(rows))]
            return "".join(
                row.drawn(row.box((x, top + row.height / 2 + _AIR))) for row, top in zip(rows, tops, strict=True)
            )
    return ""


def along(a: Point, b: Point, label: Label, gap: float, away_from: Point) -> Iterator[tuple[Point, Point]]:
    """Places beside the line from ``a`` to ``b``: along it on either side, then upright next to it.

    ``gap`` is half the width of the line; the side away from ``away_from`` comes first.
    """
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    if ux < -1e-9 or (abs(ux) <= 1e-9 and uy > 0):
        ux, uy, a, b = -ux, -uy, b, a  # text reads from the left, or upwards
    nx, ny = -uy, ux
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    outward = nx * (middle[0] - away_from[0]) + ny * (middle[1] - away_from[1])
    sides = (1, -1) if outward >= 0 else (-1, 1)
    parts = (0.5, 0.42, 0.58, 0.34, 0.66, 0.27, 0.73)
    off = gap + label.height / 2 + 2 * _AIR
    for part in parts:
        for side in sides:
            yield (
                (
                    a[0] + part * length * ux + side * off * nx,
                    a[1] + part * length * uy + side * off * ny,
                ),
                (ux, uy),
            )
    clear = gap + 2 * _AIR + label.width / 2 * abs(nx) + label.height / 2 * abs(ny)
    for part in parts:
        for side in sides:
            at = (a[0] + part * length * ux + side * clear * nx, a[1] + part * length * uy + side * clear * ny)
            yield at, (1.0, 0.0)


def around(at: Point, label: Label, gap: float, outward: Point, near: bool = False) -> Iterator[tuple[Point, Point]]:
    """Places all around a point, nearest first, those on the side of ``outward`` before the others.

    ``near``: only so close that it cannot seem to belong to a neighbour of the point.
    """
    first = math.atan2(outward[1], outward[0])
    (x, y), wide, high, level = at, label.width / 2 + _AIR, label.height / 2 + _AIR, (1.0, 0.0)
    ways = [(math.cos(first + turn), math.sin(first + turn)) for turn in _TURNS]
    for distance in (gap,) if near else (gap, gap + 6, gap + 13, gap + 21):
        for c, s in ways:
            yield (x + c * (distance + wide), y + s * (distance + high)), level
