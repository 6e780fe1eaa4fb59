"""The words of a drawing, set as whole lines.

WeasyPrint sets each letter of an SVG text as a line of its own and puts every centred text into a stream of its own:
letters that join, as in Arabic, come apart, words are told apart letter by letter by whoever reads the PDF, and it
takes a fifth of the time of a sheet.  Here a text is one line of one style.  What our drawings do not use (positions
of single letters, text on a path) is left out.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from weasyprint import svg
from weasyprint.css.properties import INITIAL_VALUES
from weasyprint.draw.text import draw_emojis, draw_first_line
from weasyprint.matrix import Matrix
from weasyprint.svg.text import Style, TextBox
from weasyprint.svg.utils import size
from weasyprint.text.ffi import pango
from weasyprint.text.line_break import create_layout, line_size

_WEIGHTS = {"normal": 400, "bold": 700}
_BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""The share of a line that stands before its anchor."""


def set_whole_lines() -> None:
    """Let every drawing of this process be lettered so."""
    svg.TAGS["text"] = _letter


def _letter(drawing: Any, node: Any, font_size: float) -> None:
    """Set one text where ``x``, ``y`` and ``text-anchor`` say."""
    if not node.text:
        return
    weight = node.get("font-weight", "normal")
    style = _style(drawing.font_config, node.get("font-family", "sans-serif"), _WEIGHTS.get(weight, weight), font_size)
    layout = create_layout(node.text, style, drawing.context, None, 0)
    # Set before the line is asked for, as drawing it asks for the same: a change would have it shaped once more.
    pango.pango_layout_set_single_paragraph_mode(layout.layout, True)
    width, _ = line_size(layout.get_first_line()[0], style)
    before = _BEFORE[node.get("text-anchor", "start")] * width
    x = size(node.get("x", "0"), font_size, drawing.inner_width) - before
    y = size(node.get("y", "0"), font_size, drawing.inner_height)
    stream = drawing.stream
    stream.push_state()
    fill, stroke = drawing.set_graphical_state(node, font_size)
    stream.begin_text()
    drawing.fill_stroke(fill, stroke, text=True)
    emojis = draw_first_line(stream, TextBox(layout, style), "none", "none", Matrix(d=-1, e=x, f=y))
    stream.end_text()
    stream.pop_state()
    draw_emojis(stream, style, x, y, emojis)


@lru_cache(maxsize=64)
def _style(font_config: Any, family: str, weight: int, font_size: float) -> Any:
    style = Style(INITIAL_VALUES)
    style.font_config = font_config
    style["font_family"] = [name.strip("\"' ") for name in family.split(",")]
    style["font_weight"], style["font_size"] = int(weight), font_size
    return style
