"""SVG as text: a few elements, presentation attributes only, every word escaped."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from html import escape

from rubric.drawing.palette import FONTS, INK, TEXT, WIDTH
from rubric.drawing.text import ISOLATES, clean
from rubric.messages.outcomes import Figure

Point = tuple[float, float]
"""Units of the drawing; y down, as SVG has it."""


def number(value: float) -> str:
    """A coordinate to a tenth of a unit."""
    text = f"{value:.1f}"
    return "0" if text == "-0.0" else text.removesuffix(".0")


def element(tag: str, *children: str, **attributes: str | float | None) -> str:
    """One element; ``children`` are markup already, an attribute that is None is left out."""
    written = "".join(
        [
            f' {_name(key)}="{escape(value) if isinstance(value, str) else number(value)}"'
            for key, value in attributes.items()
            if value is not None
        ]
    )
    inside = "".join(children)
    return f"<{tag}{written}>{inside}</{tag}>" if inside else f"<{tag}{written}/>"


@cache
def _name(key: str) -> str:
    """How an attribute is written: ``font_size`` is ``font-size``, ``class_`` is ``class``."""
    return key.rstrip("_").replace("_", "-")


def line(a: Point, b: Point, **attributes: str | float | None) -> str:
    """A straight line from ``a`` to ``b``."""
    return element("line", x1=a[0], y1=a[1], x2=b[0], y2=b[1], **attributes)


def lines(ends: Iterable[tuple[Point, Point]], **attributes: str | float | None) -> str:
    """Straight lines that look alike, as one element."""
    return path((f"M{_at(a)}L{_at(b)}" for a, b in ends), fill="none", **attributes)


def polygons(outlines: Iterable[Iterable[Point]], **attributes: str | float | None) -> str:
    """Closed outlines that look alike, as one element."""
    return path((f"M{'L'.join(map(_at, outline))}z" for outline in outlines), **attributes)


def circles(centres: Iterable[Point], radius: float, **attributes: str | float | None) -> str:
    """Circles that look alike, as one element."""
    r, wide = number(radius), number(2 * radius)
    ring = f"a{r} {r} 0 1 0 {wide} 0a{r} {r} 0 1 0 -{wide} 0z"
    return path((f"M{_at((x - radius, y))}{ring}" for x, y in centres), **attributes)


def path(pieces: Iterable[str], **attributes: str | float | None) -> str:
    """Pieces of outline as one element; nothing where there are none."""
    along = "".join(pieces)
    return element("path", d=along, **attributes) if along else ""


def _at(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"


def polygon(points: list[Point], **attributes: str | float | None) -> str:
    """A closed outline through ``points``."""
    return element("polygon", points=" ".join(f"{number(x)},{number(y)}" for x, y in points), **attributes)


def polyline(points: list[Point], **attributes: str | float | None) -> str:
    """An open line through ``points``."""
    at = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return element("polyline", points=at, fill="none", **attributes)


def words(text: str, at: Point, turned: float = 0.0, **attributes: str | float | None) -> str:
    """A line of text centred on ``at``, both ways, turned clockwise by so many degrees."""
    turn = f"rotate({number(turned)} {number(at[0])} {number(at[1])})" if turned else None
    size = attributes.get("font_size") or TEXT
    return element(
        "text",
        escape(clean(text, 120)),
        x=at[0],
        y=at[1] + 0.36 * float(size),
        transform=turn,
        **attributes,
    )


def drawing(
    parts: list[str], height: float, title: str, alternative: str, wide: float = WIDTH, linked: bool = False
) -> Figure:
    """The whole figure; ``title`` is its name, ``alternative`` what it says without being seen.

    ``linked``: it holds links, so it is a group and not one image that nothing in it could be reached of.
    """
    svg = element(
        "svg",
        element("title", escape(clean(title, 200))),
        element("desc", escape(clean(alternative, 6000, ISOLATES))),
        *parts,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(wide)} {number(height)}",
        width="100%",
        role="group" if linked else "img",
        font_family=FONTS,
        font_size=TEXT,
        text_anchor="middle",
        fill=INK,
    )
    return Figure(svg=svg, alternative=alternative)


def titled_in_full(figure: Figure) -> str:
    """The SVG with the whole alternative as its title: that is what a PDF gives to a screen reader."""
    return re.sub(r"<title>[^<]*</title><desc>([^<]*)</desc>", r"<title>\1</title>", figure.svg, count=1)
