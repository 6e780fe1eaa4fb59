"""Reads a drawing back: its elements, and the room that every line of text takes in the font that prints it."""

from __future__ import annotations

import math
import subprocess
from collections.abc import Iterator
from functools import cache
from itertools import combinations, pairwise
from typing import Any
from xml.etree import ElementTree

from fontTools.ttLib import TTFont

from rubric.drawing.palette import FONTS, SHADE
from rubric.messages.outcomes import Figure

Point = tuple[float, float]
NAMESPACE = "{http://www.w3.org/2000/svg}"


def root(figure: Figure) -> ElementTree.Element:
    """The drawing as a tree; fails where it is not well formed."""
    return ElementTree.fromstring(figure.svg)


def all_of(figure: Figure, tag: str) -> list[ElementTree.Element]:
    """Every element of one kind, and what is drawn like one as a piece of a path."""
    return list(within(root(figure), tag))


def within(part: ElementTree.Element, tag: str) -> Iterator[ElementTree.Element]:
    """The same within a part of a drawing."""
    for one in part.iter():
        if one.tag == NAMESPACE + tag:
            yield one
        elif one.tag == NAMESPACE + "path":
            looks = {name: value for name, value in one.items() if name != "d"}
            pieces = map(_piece, (one.get("d") or "").split("M")[1:])
            yield from (ElementTree.Element(NAMESPACE + tag, looks | shape) for kind, shape in pieces if kind == tag)


def _piece(piece: str) -> tuple[str, dict[str, str]]:
    """What a piece of a path draws: two arcs are a circle, a closed one is a polygon, an open one a line."""
    if "a" in piece:
        start, arc = piece.split("a")[:2]
        left, y = map(float, start.split())
        radius = float(arc.split()[0])
        return "circle", {"cx": str(left + radius), "cy": str(y), "r": str(radius)}
    points = [point.split() for point in piece.removesuffix("z").split("L")]
    if piece.endswith("z"):
        return "polygon", {"points": " ".join(map(",".join, points))}
    (x1, y1), (x2, y2) = points
    return "line", {"x1": x1, "y1": y1, "x2": x2, "y2": y2}


def words_of(figure: Figure) -> list[str]:
    """Every line of text that is drawn."""
    return [text.text or "" for text in all_of(figure, "text")]


@cache
def _font() -> tuple[dict[int, str], Any, int]:
    family = FONTS.split(",")[0].strip("' ")
    file = subprocess.run(["fc-match", "-f", "%{file}", family], capture_output=True, check=True, text=True).stdout
    font = TTFont(file, fontNumber=0)
    return font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm


def width(text: str, size: float) -> float:
    """The advance of a line of text in the font that prints it (without kerning)."""
    names, advances, em = _font()
    return sum(advances[names.get(ord(c), ".notdef")][0] for c in text) * size / em


def corners(text: ElementTree.Element) -> list[Point]:
    """The four corners of a line of text, as high as its capitals."""
    size = float(text.get("font-size") or 12)
    x, y = float(text.get("x", 0)), float(text.get("y", 0))
    long = width(text.text or "", size) * (1.06 if text.get("font-weight") == "bold" else 1.0)
    left = x if text.get("text-anchor") == "start" else x - long / 2
    box = [(left, y), (left + long, y), (left + long, y - 0.68 * size), (left, y - 0.68 * size)]
    turn = text.get("transform")
    if not turn:
        return box
    angle, cx, cy = (float(part) for part in turn[len("rotate(") : -1].split())
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return [(cx + c * (px - cx) - s * (py - cy), cy + s * (px - cx) + c * (py - cy)) for px, py in box]


def cut_off(figure: Figure) -> Iterator[str]:
    """Texts that reach over the edge of the drawing."""
    _, _, wide, high = map(float, (root(figure).get("viewBox") or "").split())
    for group in root(figure):
        shift = float((group.get("transform") or "translate(0 0)")[len("translate(0 ") : -1])
        for text in group.iter(NAMESPACE + "text"):
            if any(not (0 <= x <= wide and 0 <= y + shift <= high) for x, y in corners(text)):
                yield text.text or ""


def touch(one: list[Point], two: list[Point]) -> bool:
    """Whether two convex outlines overlap (separating axes); a line is an outline of two points."""
    for shape in (one, two):
        for (ax, ay), (bx, by) in zip(shape, shape[1:] + shape[:1], strict=True):
            nx, ny = ay - by, bx - ax
            first, second = ([px * nx + py * ny for px, py in points] for points in (one, two))
            if max(first) <= min(second) or max(second) <= min(first):
                return False
    return True


def collisions(figure: Figure) -> Iterator[str]:
    """Texts that overlap another text, a member, an arrow or a joint."""
    moved = all_of(figure, "g")[0]
    texts = [(text.text or "", corners(text)) for text in moved.iter(NAMESPACE + "text")]
    lines = [
        [(float(i.get("x1", 0)), float(i.get("y1", 0))), (float(i.get("x2", 0)), float(i.get("y2", 0)))]
        for i in within(moved, "line")
    ]
    joints = [(float(c.get("cx", 0)), float(c.get("cy", 0))) for c in within(moved, "circle")]
    heads = [_points(p) for p in within(moved, "polygon") if p.get("fill") != SHADE]
    bends = [pair for p in within(moved, "polyline") for pair in pairwise(_points(p))]
    lines += [list(pair) for pair in bends]
    for (a, box), (b, other) in combinations(texts, 2):
        if touch(box, other):
            yield f"{a!r} on {b!r}"
    for a, box in texts:
        if any(touch(box, line) for line in lines if line[0] != line[1]):
            yield f"{a!r} on a line"
        if any(touch(box, [(x - 2, y - 2), (x + 2, y - 2), (x + 2, y + 2), (x - 2, y + 2)]) for x, y in joints):
            yield f"{a!r} on a joint"
        if any(touch(box, head) for head in heads):
            yield f"{a!r} on an arrowhead"


def _points(shape: ElementTree.Element) -> list[Point]:
    x_y = [pair.split(",") for pair in (shape.get("points") or "").split()]
    return [(float(x), float(y)) for x, y in x_y]
