"""Bars as SVG: plain rectangles beside words and numbers, which the page writes as text.

Shades run from white to ink, so that they are told apart in grey; each bar has an outline.
"""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

LENGTH, HEIGHT = 1000, 40


def bar(parts: Sequence[int], whole: int, shades: Sequence[int] = (3, 3, 3, 3)) -> Markup:
    """One bar with its parts side by side; ``whole`` is the number that fills its length.

    It is hidden from screen readers: the numbers stand beside it as text.
    """
    pieces, start = [], 0.0
    for part, shade in zip(parts, shades, strict=False):
        width = LENGTH * part / whole if whole else 0.0
        if width:
            piece = Markup('<rect class="shade-{}" x="{:.0f}" y="0" width="{:.0f}" height="{}"/>')
            pieces.append(piece.format(shade, start, width, HEIGHT))
        start += width
    return Markup('<svg class="bar" viewBox="0 0 {} {}" preserveAspectRatio="none" aria-hidden="true">{}</svg>').format(
        LENGTH, HEIGHT, Markup("").join(pieces)
    )
