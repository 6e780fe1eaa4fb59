"""The lines under a drawing that say how to read it."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from rubric.drawing import palette
from rubric.drawing.boxes import text_width
from rubric.drawing.svg import Point, lines, words
from rubric.language import _
from worker.feedback.figures.parts import arrow, member
from worker.feedback.text import prose

_LEFT = 8.0
_STEP = 18.0
_SAMPLE = 42.0


class Legend:
    """Builds the legend downwards from ``top``; ``parts`` and ``bottom`` are what came out."""

    def __init__(self, top: float, wide: float = palette.WIDTH) -> None:
        self.wide = wide
        self.parts: list[str] = []
        self.bottom = top + 12
        self._x = _LEFT

    def say(self, sentence: str) -> None:
        """One sentence on lines of its own; an empty one is left out."""
        if not sentence:
            return
        self._next_line()
        row = ""
        for word in prose(sentence, 400).split(" "):
            if text_width(f"{row} {word}", palette.TEXT) > self.wide - 2 * _LEFT:
                self._write(row)
                row = ""
            row = f"{row} {word}".strip()
        self._write(row)

    def signs(self, nothing: bool) -> None:
        """Tension, compression and, where there is one, a member without force; loads and reactions."""
        self.sample(lambda a, b: member(a, b, 1.0, 1.0), _("T, tension, +: pulled"))
        self.sample(lambda a, b: member(a, b, -1.0, 1.0), _("C, compression, −: pushed"))
        if nothing:
            self.sample(lambda a, b: member(a, b, 0.0, 1.0), _("0: no force"))
        self.sample(lambda a, b: arrow(a, b), _("load"), 28)
        self.sample(lambda a, b: arrow(a, b, opened=True), _("reaction"), 28)

    def sample(self, draw: Callable[[Point, Point], str], text: str, length: float = _SAMPLE) -> None:
        """A short piece of line and what it means, beside the one before where it fits."""
        needed = length + 7 + text_width(text, palette.TEXT)
        if self._x > _LEFT and self._x + needed > self.wide - _LEFT:
            self._next_line()
        y = self.bottom
        self.parts.append(draw((self._x, y), (self._x + length, y)))
        self.parts.append(words(text, (self._x + length + 7, y), text_anchor="start"))
        self._x += needed + 9

    def _next_line(self) -> None:
        if self._x > _LEFT:
            self._x = _LEFT
            self.bottom += _STEP + 1

    def _write(self, row: str) -> None:
        self.parts.append(words(row, (_LEFT, self.bottom), text_anchor="start"))
        self.bottom += _STEP - 2


def dashed(a: Point, b: Point) -> str:
    """A light dashed sample."""
    return all_dashed([(a, b)])


def all_dashed(ends: Iterable[tuple[Point, Point]]) -> str:
    """Light dashed lines, as one element."""
    return lines(ends, stroke=palette.FAINT, stroke_width=1.4, stroke_dasharray=palette.DASHES)
