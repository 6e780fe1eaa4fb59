"""Each stick's layout drawn to one scale: which pieces in which order, each cut, and what is left over."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from rubric.drawing.boxes import text_width
from rubric.drawing.palette import INK, PAPER
from rubric.drawing.svg import element
from rubric.drawing.text import clean
from rubric.language import _, counted
from rubric.wording import figure, localised
from worker.feedback.plan.markup import letter, mm, path
from worker.feedback.plan.pieces import Kind, Layout

WIDE_MM = 172.0
_LEFT, _RIGHT = 11.0, 17.0
"""Room for how many sticks are cut so, and for what is left over."""
_ROW, _BAR = 8.0, 5.4
_TEXT = 2.9
_KERF_LEAST = 0.35
"""A cut is drawn at least this wide."""


def drawn(kind: Kind, longest_mm: float, kerf_mm: float) -> str:
    """All layouts of one kind of stick; ``longest_mm`` is the longest stick of the kit, for one scale."""
    scale = (WIDE_MM - _LEFT - _RIGHT) / longest_mm
    rows = [part for i, one in enumerate(kind.layouts) for part in _row(one, kind, i * _ROW, scale, kerf_mm)]
    high = len(kind.layouts) * _ROW
    said = _("How to cut {stick}.", stick=kind.name) + " " + " ".join(told(one) for one in kind.layouts)
    return element(
        "svg",
        element("title", escape(clean(said, 6000))),
        *rows,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {mm(WIDE_MM)} {mm(high)}",
        width=f"{mm(WIDE_MM)}mm",
        height=f"{mm(high)}mm",
        role="img",
        font_family="Andika, sans-serif",
        fill=INK,
    )


def told(layout: Layout) -> str:
    """One layout in words."""
    pieces = ", ".join(f"{piece.letter} {figure(piece.length_mm, 4)} mm" for piece in layout.pieces)
    return counted(
        "{count} stick: {pieces}; {left} mm left over.",
        "{count} sticks: {pieces}; {left} mm left over.",
        layout.sticks,
        pieces=pieces,
        left=figure(layout.left_over_mm, 4),
    )


def _row(layout: Layout, kind: Kind, top: float, scale: float, kerf_mm: float) -> Iterator[str]:
    y, x, kerf = top + (_ROW - _BAR) / 2, _LEFT, max(_KERF_LEAST, kerf_mm * scale)
    end = _LEFT + kind.length_mm * scale
    yield letter(f"{layout.sticks} ×", (_LEFT / 2 - 0.5, top + _ROW / 2), 3.2, font_weight="bold")
    yield path(_corners(x, end, y), closed=True, fill="#e2e5e9", stroke=INK, stroke_width=0.2)
    for piece in layout.pieces:
        wide = piece.length_mm * scale
        yield path(_corners(x, x + wide, y), closed=True, fill=PAPER, stroke=INK, stroke_width=0.2)
        yield from _named(piece.letter, piece.length_mm, (x + wide / 2, top + _ROW / 2), wide)
        x += wide
        if end - x > 1e-6:
            yield path(_corners(x, min(end, x + kerf), y), closed=True, fill=INK)
        x += kerf_mm * scale
    left_over = _("{length} left", length=figure(layout.left_over_mm, 4))
    inside = end - x > text_width(left_over, _TEXT) + 2
    at = ((x + end) / 2 if inside else end + 1 + text_width(left_over, _TEXT) / 2, top + _ROW / 2)
    if layout.left_over_mm > 0:
        yield letter(left_over, at, _TEXT)


def _corners(left: float, right: float, top: float) -> list[tuple[float, float]]:
    return [(left, top), (right, top), (right, top + _BAR), (left, top + _BAR)]


def _named(name: str, length_mm: float, at: tuple[float, float], wide: float) -> Iterator[str]:
    """The letter and the length, or the letter alone, as there is room."""
    for text in (f"{name} {localised(f'{length_mm:g}')}", name):
        if text_width(text, _TEXT) < wide - 0.6:
            yield letter(text, at, _TEXT)
            return
