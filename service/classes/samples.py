"""Sample trusses for a brief, so that a rubric can be tried before anybody has handed in.

Drawn by rule, as text: whether one stands, and what it carries, only a worker knows.
"""

from __future__ import annotations

import math

from rubric.brief import Brief
from rubric.language import later
from service.demo.bridges import Design, as_yaml, girder

SLOPE = 5
"""Span over depth of a sample: a common proportion."""

PANELS = (4, 6, 8, 10, 12, 16, 20)


def samples(brief: Brief) -> tuple[tuple[str, str], ...]:
    """Name, which ``_`` says, and file of each; none where the truss is given, or no level deck can carry the loads."""
    panels = _panels(brief)
    if brief.problem is not None or panels is None:
        return ()
    sticks = sorted(brief.stock, key=lambda name: -max(brief.stock[name].section.sides_mm))
    strong, light = sticks[0], sticks[-1]
    doubled = f"{strong} x2" if brief.most_sticks > 1 else strong
    depth = _depth(brief)
    plain = _girder("A plain girder", brief, panels, depth, doubled, strong)
    middle = panels // 2
    return (
        (later("A plain girder"), as_yaml(plain)),
        (later("The same, half as deep"), as_yaml(_girder("Half as deep", brief, panels, depth / 2, doubled, strong))),
        (later("The same, all of the lightest stick"), as_yaml(_girder("Light", brief, panels, depth, light, light))),
        (later("The same with a diagonal left out"), as_yaml(plain.without(f"t{middle - 1}-b{middle}"))),
    )


def _girder(title: str, brief: Brief, panels: int, depth: float, strong: str, rest: str) -> Design:
    return girder(title, brief.span_mm, panels, depth, bottom=rest, top=strong, vertical=rest, diagonal=rest)


def _depth(brief: Brief) -> float:
    wanted = brief.span_mm / SLOPE
    most = brief.limits.depth_above_mm
    return wanted if most is None or most <= 0 else min(wanted, most)


def _panels(brief: Brief) -> int | None:
    """The fewest panels that put a joint under each load and keep members short enough."""
    longest = min((stick.length_mm for stick in brief.stock.values()), default=math.inf)
    longest = min(longest, brief.limits.longest_member_mm or math.inf)
    places = brief.load.places if isinstance(brief.load.places, tuple) else ()
    for panels in PANELS:
        width = brief.span_mm / panels
        under = all(math.isclose(round(place / width) * width, place, abs_tol=0.01) for place in places)
        if under and math.hypot(width, _depth(brief)) <= longest:
            return panels
    return None
