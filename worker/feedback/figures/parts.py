"""Joints, members, supports and arrows, drawn in the trade's usual way."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable

from rubric.drawing import palette
from rubric.drawing.boxes import Box, Space, strip
from rubric.drawing.svg import Point, circles, line, lines, polygon, polygons

ARROW = 34.0
SUPPORT_DEPTH = 24.0
"""From a joint to the ground line under its support."""


def moved(point: Point, direction: Point, distance: float) -> Point:
    """``point`` moved along the unit vector ``direction``."""
    return point[0] + direction[0] * distance, point[1] + direction[1] * distance


def unit(a: Point, b: Point) -> Point:
    """The unit vector from ``a`` to ``b``."""
    length = math.dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def head(tip: Point, direction: Point, length: float, **attributes: str | float | None) -> str:
    """An arrowhead with its point at ``tip``."""
    return polygon(_head(tip, direction, length), **attributes)


def _head(tip: Point, direction: Point, length: float) -> list[Point]:
    back = moved(tip, direction, -length)
    side = (-direction[1], direction[0])
    return [tip, moved(back, side, 0.42 * length), moved(back, side, -0.42 * length)]


def arrow(tail: Point, tip: Point, opened: bool = False, colour: str = palette.INK) -> str:
    """A load (filled head) or a reaction (open head)."""
    direction = unit(tail, tip)
    fill = palette.PAPER if opened else colour
    return line(tail, moved(tip, direction, -8), stroke=colour, stroke_width=1.6) + head(
        tip, direction, 9, fill=fill, stroke=colour, stroke_width=1.3 if opened else None
    )


def beside(at: Point, direction: Point, tip_gap: float, tail_gap: float, space: Space) -> tuple[Point, Point]:
    """Tail and tip of an arrow at a joint: ending there or starting there, whichever is freer."""
    ending = (moved(at, direction, -tip_gap - ARROW), moved(at, direction, -tip_gap))
    starting = (moved(at, direction, tail_gap), moved(at, direction, tail_gap + ARROW))
    crowded = [space.clashes(*strip(*way, 8)) for way in (starting, ending)]
    chosen = starting if crowded[0] <= crowded[1] else ending
    space.take(*strip(*chosen, 9))
    return chosen


def member(a: Point, b: Point, force: float, thin: float) -> str:
    """One member: thin green leaving its joints, thick purple entering them, or grey dots.

    ``force`` is tension positive, 0 where it carries nothing; ``thin`` scales the line width.
    """
    return "".join(members([(a, b, force)], thin))


def members(bars: Iterable[tuple[Point, Point, float]], thin: float) -> list[str]:
    """Members as of :func:`member`, those that look alike as one element: thick under thin, arrowheads over all."""
    alike: dict[int, list[tuple[Point, Point]]] = defaultdict(list)
    for a, b, force in bars:
        alike[(force > 0) - (force < 0)].append((a, b))
    dots = lines(
        alike[0],
        stroke=palette.NOTHING,
        stroke_width=palette.NOTHING_WIDTH * thin,
        stroke_dasharray=palette.DOTS,
        stroke_linecap="round",
    )
    pushed = lines(alike[-1], stroke=palette.COMPRESSION, stroke_width=thin * palette.COMPRESSION_WIDTH)
    pulled = lines(alike[1], stroke=palette.TENSION, stroke_width=thin * palette.TENSION_WIDTH)
    into = (head for a, b in alike[-1] for head in _heads(a, b, False, thin))
    out = (head for a, b in alike[1] for head in _heads(a, b, True, thin))
    heads = polygons(into, fill=palette.COMPRESSION), polygons(out, fill=palette.TENSION)
    return [part for part in (dots, pushed, pulled, *heads) if part]


def _heads(a: Point, b: Point, pulled: bool, thin: float) -> list[list[Point]]:
    length = math.dist(a, b)
    size = min(10 * thin if pulled else 12 * thin, length / 4.5)
    gap = min(6 * thin, length / 10)
    if size < 2.5:
        return []
    away = unit(a, b)
    back = (-away[0], -away[1])
    if pulled:
        tips = ((moved(a, away, gap + size), away), (moved(b, back, gap + size), back))
    else:
        tips = ((moved(a, away, gap), back), (moved(b, back, gap), away))
    return [_head(tip, direction, size) for tip, direction in tips]


def outline(a: Point, b: Point, thin: float) -> str:
    """The double line around the member that breaks first."""
    wide = thin * (palette.COMPRESSION_WIDTH + 8)
    return line(a, b, stroke=palette.INK, stroke_width=wide, stroke_linecap="round") + line(
        a, b, stroke=palette.PAPER, stroke_width=wide - 2.4, stroke_linecap="round"
    )


def joint(at: Point, radius: float, filled: bool = False) -> str:
    """A pin joint."""
    return joints([at], radius, filled)


def joints(places: Iterable[Point], radius: float, filled: bool = False) -> str:
    """Pin joints, as one element."""
    fill, wide = palette.INK if filled else palette.PAPER, 1.4 if radius > 2 else 0.8
    return circles(places, radius, fill=fill, stroke=palette.INK, stroke_width=wide)


def ground_side(said: str, at: Point, middle: Point) -> Point:
    """The unit vector from a supported joint to the ground it stands on."""
    kind, _, slope = said.partition(" ")
    if kind != "roller" or not slope:
        return 0.0, 1.0
    if slope == "y":
        return (-1.0, 0.0) if at[0] <= middle[0] else (1.0, 0.0)
    try:
        angle = math.radians(float(slope))
    except ValueError:
        return 0.0, 1.0
    down = (math.sin(angle), math.cos(angle))
    return down if down[1] >= 0 else (-down[0], -down[1])


def support(said: str, at: Point, down: Point, space: Space) -> str:
    """A triangle for a pin, a triangle on wheels for a roller, and the ground under it."""
    side = (-down[1], down[0])
    rolls = said.startswith("roller")
    foot = 14.0 if rolls else 19.0
    corners = [at, moved(moved(at, down, foot), side, 10), moved(moved(at, down, foot), side, -10)]
    ink: dict[str, str | float | None] = {"stroke": palette.INK, "stroke_width": 1.3}
    drawn = [polygon(corners, fill=palette.SHADE, **ink)]
    level = 19.0
    if rolls:
        wheels = [moved(moved(at, down, 16.6), side, way) for way in (5.5, -5.5)]
        drawn.append(circles(wheels, 2.5, fill=palette.PAPER, **ink))
    ground = [moved(moved(at, down, level + 0.4), side, way) for way in (-16, 16)]
    drawn.append(line(ground[0], ground[1], **ink))
    tops = [moved(moved(at, down, level + 0.4), side, way) for way in (-15, -9, -3, 3, 9, 15)]
    earth = ((top, moved(moved(top, down, 4.5), side, 4)) for top in tops)
    drawn.append(lines(earth, stroke=palette.INK, stroke_width=0.8))
    centre = moved(at, down, SUPPORT_DEPTH / 2 + 1)
    space.take(Box(centre, 19, SUPPORT_DEPTH / 2, side))
    return "".join(drawn)


def rule(a: Point, b: Point) -> str:
    """A dimension line from ``a`` to ``b``."""
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    return half_rule(middle, a) + half_rule(middle, b)


def half_rule(start: Point, end: Point) -> str:
    """From ``start`` to an arrowhead and a tick at ``end``."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = max((dx * dx + dy * dy) ** 0.5, 1e-9)
    way = (dx / length, dy / length)
    side = (-way[1] * 5, way[0] * 5)
    tick = line(
        (end[0] - side[0], end[1] - side[1]), (end[0] + side[0], end[1] + side[1]), stroke=palette.INK, stroke_width=0.9
    )
    return (
        line(start, end, stroke=palette.INK, stroke_width=0.9)
        + tick
        + head(end, way, min(7.0, length / 2), fill=palette.INK)
    )
