"""What the drawings of the help share: sticks as this project draws them, arrows, joints and captions."""

from __future__ import annotations

import math
from collections.abc import Iterable

from rubric.drawing import palette
from rubric.drawing.svg import Point, circles, drawing, element, line, polygon, words
from rubric.messages.outcomes import Figure

WIDE = 360.0
"""Narrow, so that letters stay large on a phone."""
LETTERS = 13.0
_JOINT = 4.0


def finished(parts: Iterable[str], height: float, title: str, alternative: str) -> Figure:
    """The whole drawing."""
    return drawing(list(parts), height, title, alternative, WIDE)


def say(text: str, at: Point, anchor: str = "middle", bold: bool = False, colour: str = palette.INK) -> str:
    """A line of text."""
    weight = "bold" if bold else None
    return words(text, at, text_anchor=anchor, font_size=LETTERS, font_weight=weight, fill=colour)


def tie(a: Point, b: Point) -> str:
    """A pulled stick: thin and green, arrowheads leaving its joints."""
    return line(a, b, stroke=palette.TENSION, stroke_width=palette.TENSION_WIDTH) + _heads(a, b, palette.TENSION, True)


def strut(a: Point, b: Point) -> str:
    """A pushed stick: thick and purple, arrowheads entering its joints."""
    drawn = line(a, b, stroke=palette.COMPRESSION, stroke_width=palette.COMPRESSION_WIDTH)
    return drawn + _heads(a, b, palette.COMPRESSION, False)


def idle(a: Point, b: Point) -> str:
    """A stick that carries nothing: grey dots."""
    look = {"stroke_dasharray": palette.DOTS, "stroke_linecap": "round"}
    return line(a, b, stroke=palette.NOTHING, stroke_width=palette.NOTHING_WIDTH * 1.4, **look)


def stick(a: Point, b: Point, width: float = 4.0, colour: str = palette.INK) -> str:
    """A stick of which no force is told."""
    return line(a, b, stroke=colour, stroke_width=width, stroke_linecap="round")


def ghost(points: list[Point]) -> str:
    """Where something stood before it moved."""
    return polygon(points, fill="none", stroke=palette.FAINT, stroke_width=1.6, stroke_dasharray=palette.DASHES)


def joints(at: Iterable[Point]) -> str:
    """Joints, as rings."""
    return circles(at, _JOINT, fill=palette.PAPER, stroke=palette.INK, stroke_width=1.6)


def arrow(a: Point, b: Point, colour: str = palette.MOVEMENT, width: float = 2.2) -> str:
    """A force or a way, from ``a`` to ``b``."""
    back = _towards(b, a, 9)
    return line(a, back, stroke=colour, stroke_width=width) + _head(a, b, 11, colour)


def supports(left: Point, right: Point) -> str:
    """A pin under the left joint and a roller under the right one."""
    (x, y), (u, v) = left, right
    look: dict[str, str | float | None] = {"fill": palette.PAPER, "stroke": palette.INK, "stroke_width": 1.6}
    pin = polygon([(x, y + 3), (x - 9, y + 18), (x + 9, y + 18)], **look)
    roller = element("circle", cx=u, cy=v + 11, r=7, **look)
    return pin + roller


def box(left: float, top: float, wide: float, high: float, fill: str = palette.PAPER, dashed: bool = False) -> str:
    """A rectangle with an outline."""
    dashes = palette.DASHES if dashed else None
    return element(
        "rect",
        x=left,
        y=top,
        width=wide,
        height=high,
        fill=fill,
        stroke=palette.INK,
        stroke_width=1.4,
        stroke_dasharray=dashes,
    )


def _heads(a: Point, b: Point, colour: str, leaving: bool) -> str:
    """An arrowhead near each end: leaving the joint there, or entering it."""
    drawn = []
    for here, there in ((a, b), (b, a)):
        near, far = _towards(here, there, 9), _towards(here, there, 22)
        drawn.append(_head(near, far, 12, colour) if leaving else _head(far, near, 14, colour, 7))
    return "".join(drawn)


def _head(a: Point, b: Point, long: float, colour: str, half: float = 5) -> str:
    """An arrowhead with its tip at ``b``."""
    away = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / away, (b[1] - a[1]) / away
    back = (b[0] - long * ux, b[1] - long * uy)
    return polygon(
        [b, (back[0] - half * uy, back[1] + half * ux), (back[0] + half * uy, back[1] - half * ux)], fill=colour
    )


def _towards(a: Point, b: Point, far: float) -> Point:
    away = math.dist(a, b)
    return a[0] + (b[0] - a[0]) * far / away, a[1] + (b[1] - a[1]) * far / away
