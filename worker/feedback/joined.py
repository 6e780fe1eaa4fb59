"""Names in joined and right-to-left scripts on a printed drawing.

WeasyPrint draws the text of an SVG letter by letter, from the left: Arabic comes out unjoined
and backwards.  Such a label is therefore taken out of the drawing and laid over it as HTML.
"""

from __future__ import annotations

import re
import unicodedata

from rubric.drawing.palette import TEXT, WIDTH

PRINTED_MM = 172.0
"""How wide a drawing of full width is on the sheet: A4 less its margins."""

UNIT_MM = PRINTED_MM / WIDTH
"""One unit of any drawing as printed, so that all have letters of one size."""

_LABEL = re.compile(r'<text x="([-\d.]+)" y="([-\d.]+)"([^>]*)>([^<]*)</text>')
_SHIFT = re.compile(r'transform="translate\(0 ([-\d.]+)\)"')
_SIZES = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')
_SIZE = re.compile(r'font-size="([\d.]+)"')


def whole_words(svg: str) -> str:
    """The drawing, and after it the labels that need their letters joined, at their places.

    The box around it must be ``position: relative`` and as wide as the drawing.
    """
    over: list[str] = []
    shift, sizes = _SHIFT.search(svg), _SIZES.search(svg)
    if shift is None or sizes is None:
        return svg

    end = _end_of_group(svg, shift.start())

    def lift(found: re.Match[str]) -> str:
        x, y, rest, name = found.groups()
        if "transform" in rest or not needs_joining(name):
            return found[0]
        given = _SIZE.search(rest)
        size = float(given[1]) if given else TEXT
        down = float(shift[1]) if found.start() < end else 0.0  # the lines under a drawing are not in the group
        left, top = float(x) / float(sizes[1]), (float(y) + down) / float(sizes[2])
        mm = size * UNIT_MM
        kind = ' class="row"' if 'text-anchor="start"' in rest else ""
        words = f"<b>{name}</b>" if "bold" in rest else name
        over.append(
            f'<span{kind} style="left: {left:.2%}; top: {top:.2%}; font-size: {mm:.2f}mm; '
            f'margin-top: {-0.96 * mm:.2f}mm">{words}</span>'
        )
        return ""

    return _LABEL.sub(lift, svg) + "".join(over)


def _end_of_group(svg: str, start: int) -> int:
    """Where the group ends whose tag holds the place ``start``."""
    depth = 1
    for found in re.finditer(r"<g[ >]|</g>", svg[start:]):
        depth += -1 if found[0] == "</g>" else 1
        if not depth:
            return start + found.end()
    return len(svg)


def needs_joining(text: str) -> bool:
    """Whether letters change with their neighbours, or run from the right."""
    return any(unicodedata.bidirectional(c) in ("R", "AL") or unicodedata.category(c)[0] == "M" for c in text)
