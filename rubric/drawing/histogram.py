"""How many values lie in each step of an axis: bars that touch, each with its number."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rubric.drawing import palette
from rubric.drawing.axis import Axis, axis, level
from rubric.drawing.svg import drawing, element, words
from rubric.language import _
from rubric.messages.outcomes import Figure
from rubric.wording import figure

_SIDE, _HIGH, _TICKS = 20.0, 84.0, 11


def histogram(values: Sequence[float], what: str, most: float | None = None, wide: float = palette.WIDTH) -> Figure:
    """Draw how many values lie in each step; a value on a border counts to the step above it, the highest to the last.

    Parameters
    ----------
    what
        What is counted, with its unit (``points``).
    most
        The most that there is to earn: the axis reaches from nought at least so far.
    """
    scale = axis([*values, 0.0, *([most] if most else [])], _SIDE, wide - _SIDE, _TICKS)
    counts = counted_in(scale, values)
    tallest = max(counts, default=0)
    drawn = []
    for (low, high), count in zip(_steps(scale), counts, strict=True):
        left, right, tall = scale.place(low), scale.place(high), _HIGH * count / max(1, tallest)
        if count:
            drawn.append(
                element(
                    "rect",
                    x=left,
                    y=-tall,
                    width=right - left,
                    height=tall,
                    fill=palette.MOVEMENT,
                    stroke=palette.PAPER,
                    stroke_width=1,
                )
            )
            drawn.append(words(str(count), ((left + right) / 2, -tall - 8), font_size=10.5))
    shifted = element("g", *drawn, level(scale, 0, what), transform=f"translate(0 {_HIGH + 18:.1f})")
    title = _("How many have how much: {what}", what=what)
    return drawing([shifted], _HIGH + 66, title, _said(scale, counts, what), wide)


def counted_in(scale: Axis, values: Sequence[float]) -> list[int]:
    """How many values lie in each step of the axis."""
    steps = len(scale.ticks) - 1
    counts = [0] * steps
    for value in values:
        counts[min(steps - 1, max(0, math.floor((value - scale.low) / scale.step + 1e-9)))] += 1
    return counts


def _steps(scale: Axis) -> list[tuple[float, float]]:
    return list(zip(scale.ticks, scale.ticks[1:], strict=False))


def _said(scale: Axis, counts: Sequence[int], what: str) -> str:
    if not any(counts):
        return _("{what}: nobody has any yet.", what=what)
    filled = [(step, count) for step, count in zip(_steps(scale), counts, strict=True) if count]
    each = [
        _("{count} from {low} to {high}", count=count, low=figure(low, 4), high=figure(high, 4))
        for (low, high), count in filled
    ]
    return _("{what}, a bar for each step that somebody is in: {bars}.", what=what, bars=", ".join(each))
