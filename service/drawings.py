"""Whether a drawing that a worker sent may stand on a page.

Workers read the files of strangers, so what they answer is not trusted: a figure passes only
if every element and every attribute is on a list of shapes, text and their looks.  No style
sheets, no scripts, no entities, ``url()`` only for a marker of the same drawing, and links only to
a member's row on the same page.
"""

from __future__ import annotations

import re
from xml.parsers import expat

ELEMENTS = frozenset("svg g path line polyline polygon rect circle ellipse text tspan title desc defs marker a".split())

ATTRIBUTES = frozenset(
    """
    xmlns version viewBox width height preserveAspectRatio id class role lang
    aria-label aria-labelledby aria-describedby aria-hidden focusable
    x y x1 y1 x2 y2 cx cy r rx ry dx dy d points transform rotate textLength lengthAdjust pathLength
    fill fill-opacity fill-rule stroke stroke-width stroke-opacity stroke-dasharray stroke-dashoffset
    stroke-linecap stroke-linejoin stroke-miterlimit vector-effect paint-order opacity color visibility
    font-family font-size font-style font-weight font-variant letter-spacing word-spacing
    text-anchor dominant-baseline alignment-baseline baseline-shift text-decoration
    marker-start marker-mid marker-end markerWidth markerHeight markerUnits refX refY orient
    """.split()
)

_OF_A_LINK = frozenset(("id", "href"))
_ROW = re.compile(r"#member-[0-9]{1,4}")
_NUMBERED = re.compile(r"drawn-[0-9]{1,4}")

DEEPEST, MOST_ELEMENTS = 20, 20_000

_MARKER = re.compile(r"url\(#[A-Za-z][A-Za-z0-9_-]*\)|none")
_TRANSFORM = re.compile(r"((matrix|translate|scale|rotate|skewX|skewY)\([-+0-9.,eE\s]*\)[\s,]*)*")
_SVG_NAMESPACE = "http://www.w3.org/2000/svg"


def without_links(svg: str) -> str:
    """A drawing that passed, for a page that has no rows to link to."""
    return re.sub(r"<a [^<>]*>|</a>", "", svg)


def drawing_fault(svg: str) -> str | None:
    """Why a drawing is refused, without quoting it; None where it may be shown."""
    checker = _Checker()
    try:
        checker.read(svg)
    except expat.ExpatError:
        return "it is not well-formed"
    except ValueError as fault:
        return str(fault)
    return None


class _Checker:
    """Walks the drawing once and raises ValueError at the first thing that is not on the lists."""

    def __init__(self) -> None:
        self.depth = 0
        self.count = 0
        self.within_label = False
        self.links_within = 0

    def read(self, svg: str) -> None:
        parser = expat.ParserCreate("utf-8")
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        # Anything beside elements and text is refused: also where entities would be declared.
        for handler in (
            "StartDoctypeDecl",
            "EntityDecl",
            "ProcessingInstruction",
            "Comment",
            "StartCdataSection",
            "XmlDecl",
        ):
            setattr(parser, f"{handler}Handler", self._refuse)
        parser.Parse(svg.encode(), True)

    def _start(self, element: str, attributes: dict[str, str]) -> None:
        self.depth += 1
        self.count += 1
        # A page reads what stands inside a title or desc as HTML again, so only text may.
        if element not in ELEMENTS or (element == "svg") != (self.depth == 1) or self.within_label:
            raise ValueError("it holds an element that is not allowed there")
        self.within_label = element in ("title", "desc")
        if self.depth > DEEPEST or self.count > MOST_ELEMENTS:
            raise ValueError("it is nested too deeply or holds too many elements")
        if element == "a":
            self._link(attributes)
            return
        for name, value in attributes.items():
            if name not in ATTRIBUTES or not _harmless(name, value):
                raise ValueError("it holds an attribute that is not allowed")
        if element == "svg" and attributes.get("xmlns") != _SVG_NAMESPACE:
            raise ValueError("it does not say that it is SVG")

    def _link(self, attributes: dict[str, str]) -> None:
        """Only to a row of the table of members, under a name that no part of our pages has."""
        own, row = attributes.get("id", ""), attributes.get("href", "")
        if self.links_within or set(attributes) != _OF_A_LINK:
            raise ValueError("it holds a link that is not allowed there")
        if not _ROW.fullmatch(row) or not _NUMBERED.fullmatch(own):
            raise ValueError("it holds a link to something else than a member's row")
        self.links_within += 1

    def _end(self, element: str) -> None:
        self.depth -= 1
        self.within_label = False
        self.links_within -= element == "a"

    def _refuse(self, *_: object) -> None:
        raise ValueError("it holds more than elements and text")


def _harmless(name: str, value: str) -> bool:
    if name == "xmlns":
        return value == _SVG_NAMESPACE
    if name.startswith("marker-"):
        return _MARKER.fullmatch(value) is not None
    if name == "transform":
        return _TRANSFORM.fullmatch(value) is not None
    # Elsewhere a bracket or an escape could call for an address; a label is only read aloud.
    return name == "aria-label" or not set(value) & set("(\\@")
