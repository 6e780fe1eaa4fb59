"""An axis with round numbers: from values to places on a drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rubric.drawing import palette
from rubric.drawing.labels import Label
from rubric.drawing.svg import Point, line, words
from rubric.wording import figure

_TICK = 5.0


@dataclass(frozen=True)
class Axis:
    """Values ``low`` to ``high`` on the stretch from ``start`` to ``end``; a tick each ``step``."""

    low: float
    high: float
    step: float
    start: float
    end: float

    def place(self, value: float) -> float:
        """Where a value stands."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    @property
    def ticks(self) -> list[float]:
        """The round values along it."""
        count = round((self.high - self.low) / self.step)
        return [float(f"{self.low + i * self.step:.10g}") for i in range(count + 1)]


def axis(values: Sequence[float], start: float, end: float, most_ticks: int = 7, from_nought: bool = False) -> Axis:
    """An axis that holds all values, from one round number to another, of steps of 1, 2 or 5 times a power of ten."""
    low, high = min(values, default=0.0), max(values, default=1.0)
    low = min(low, 0.0) if from_nought or low == high else low
    high = max(high, 0.0) if low < high or high > 0 else low + 1.0
    high = high if high > low else low + 1.0
    rough = (high - low) / max(1, most_ticks - 1)
    power = 10.0 ** math.floor(math.log10(rough))
    for step in (power, 2 * power, 5 * power, 10 * power, 20 * power):
        first, last = math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
        if round((last - first) / step) <= most_ticks - 1:
            break
    return Axis(first, last, step, start, end)


def level(scale: Axis, y: float, text: str = "", size: float = 10.5) -> str:
    """The axis drawn from left to right at height ``y``, numbers under its ticks, and what it counts under them."""
    drawn = [line((scale.start, y), (scale.end, y), stroke=palette.INK, stroke_width=1)]
    for value in scale.ticks:
        x = scale.place(value)
        drawn.append(line((x, y), (x, y + _TICK), stroke=palette.INK, stroke_width=1))
        drawn.append(_centred(figure(value, 4), (x, y + _TICK + 9 * size / 10.5), size))
    if text:
        drawn.append(_centred(text, ((scale.start + scale.end) / 2, y + _TICK + 25), palette.TEXT))
    return "".join(drawn)


def upright(scale: Axis, x: float, right: float, size: float = 10.5) -> str:
    """The axis drawn upwards at ``x``, numbers to its left, and a faint line at each tick as far as ``right``."""
    drawn = []
    for value in scale.ticks:
        y = scale.place(value)
        drawn.append(line((x, y), (right, y), stroke=palette.SHADE, stroke_width=1))
        drawn.append(words(figure(value, 4), (x - 6, y), text_anchor="end", font_size=size))
    return "".join(drawn) + line((x, scale.start), (x, scale.end), stroke=palette.INK, stroke_width=1)


def _centred(text: str, at: Point, size: float) -> str:
    label = Label(text, size)
    return label.drawn(label.box(at))
