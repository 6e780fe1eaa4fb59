"""A first truss file for a brief: one that fits it and stands, and leaves all the thinking to do.

Pure: a brief in, the text of a file out.  Drawn by rule from the lightest stick, single
and flat: what it lacks is for the student to find out.
"""

from __future__ import annotations

import math
from itertools import pairwise

from rubric.brief import Brief

SLOPE = 6
"""Span over depth: rather flat, so that there is something to find out."""

MOST_PANELS = 40

ROUNDED_MM = 0.2
"""Coordinates are written to 0.1 mm, so a member may come out so much longer than it was meant."""

Place = tuple[float, float]


def example(brief: Brief) -> str:
    """The text of a file to begin with; nothing where no plain girder on a level deck keeps the limits of length."""
    if brief.problem is not None:
        return _working(brief)
    depth = _depth(brief)
    xs = _deck(brief, abs(depth)) if depth else None
    if xs is None:
        return ""
    stick = min(brief.stock, key=lambda name: math.prod(brief.stock[name].section.sides_mm))
    return _written(_joints(xs, depth), _members(len(xs) - 1), stick)


def _depth(brief: Brief) -> float:
    """Height of the chord over the deck, mm; negative under it, 0 where there is no room at all."""
    wanted = max(brief.span_mm / SLOPE, brief.limits.shortest_member_mm or 0.0)
    above, below = brief.limits.depth_above_mm, brief.limits.depth_below_mm
    if above is None or above > 0:
        return wanted if above is None else min(wanted, above)
    return 0.0 if below == 0 else -(wanted if below is None else min(wanted, below))


def _deck(brief: Brief, depth: float) -> list[float] | None:
    """Where the deck has joints: at supports and loads, and between them wherever a member would be too long."""
    longest = min((stick.length_mm for stick in brief.stock.values()), default=math.inf)
    longest = min(longest, brief.limits.longest_member_mm or math.inf) - ROUNDED_MM
    if longest <= depth:
        return None
    widest = math.sqrt(longest**2 - depth**2)
    places = brief.load.places if isinstance(brief.load.places, tuple) else ()
    xs = sorted({0.0, brief.span_mm, *places, *(() if places else (brief.span_mm / 2,))})
    found = [0.0]
    for left, right in pairwise(xs):
        parts = math.ceil((right - left) / widest - 1e-9)
        found += [round(left + (right - left) * i / parts, 1) for i in range(1, parts)] + [right]
        if len(found) > MOST_PANELS:
            return None
    return found


def _joints(xs: list[float], depth: float) -> dict[str, Place]:
    last = len(xs) - 1
    return {f"b{i}": (x, 0.0) for i, x in enumerate(xs)} | {f"t{i}": (xs[i], round(depth, 1)) for i in range(1, last)}


def _members(panels: int) -> list[str]:
    """Bottom chord, end posts, top chord, verticals, and diagonals that fall towards the middle."""
    middle = panels // 2
    return [
        *(f"b{i}-b{i + 1}" for i in range(panels)),
        "b0-t1",
        *(f"t{i}-t{i + 1}" for i in range(1, panels - 1)),
        f"t{panels - 1}-b{panels}",
        *(f"b{i}-t{i}" for i in range(1, panels)),
        *(f"t{i}-b{i + 1}" for i in range(1, middle)),
        *(f"b{i}-t{i + 1}" for i in range(middle, panels - 1)),
    ]


def _written(joints: dict[str, Place], members: list[str], stick: str) -> str:
    lines = [
        "title: My first truss",
        "units: mm",
        "joints:    # name: [how far right, how far up]",
        *(f"  {name}: [{x:g}, {y:g}]" for name, (x, y) in joints.items()),
        "members:   # from-to: the stick it is cut from",
        *(f"  {name}: {stick}" for name in members),
    ]
    return "\n".join(lines) + "\n"


def _working(brief: Brief) -> str:
    """Where the truss is given: how the working is written down, with numbers that are made up."""
    assert brief.problem is not None
    left = brief.problem.at(0.0, 0.0)
    bars = list(brief.problem.members)[:2]
    signs = ("T", "C")
    return "\n".join(
        [
            "working:   # these numbers are made up: put your own",
            "  reactions:",
            f"    {left}: 10 up",
            "  forces:   # N, T for tension, C for compression",
            *(f"    {bar}: 10 {sign}" for bar, sign in zip(bars, signs, strict=False)),
            "",
        ]
    )
