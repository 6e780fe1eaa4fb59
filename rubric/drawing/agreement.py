"""Predicted against measured load: a dot for each bridge, the line of agreement, the factor of all and its band."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rubric.contest.factor import Factor
from rubric.drawing import palette
from rubric.drawing.axis import Axis, axis, level, upright
from rubric.drawing.svg import drawing, element, line, polygon, words
from rubric.messages.outcomes import Figure
from rubric.wording import figure, plural

WIDE, HIGH = 560.0, 360.0
_LEFT, _RIGHT, _TOP = 62.0, 26.0, 30.0


@dataclass(frozen=True)
class Dot:
    """One bridge: its number, predicted and measured load in N."""

    number: int
    predicted_N: float
    measured_N: float


def agreement(dots: Sequence[Dot], factor: Factor | None) -> Figure:
    """Draw predicted (to the right) against measured load (up), N, both from nought."""
    both = [load for dot in dots for load in (dot.predicted_N, dot.measured_N)]  # one scale: agreement is the diagonal
    across = axis(both, _LEFT, WIDE - _RIGHT, from_nought=True)
    up = axis(both, HIGH, _TOP, from_nought=True)
    parts = [upright(up, _LEFT, WIDE - _RIGHT), level(across, HIGH, "predicted load, N")]
    if factor is not None:
        parts += [_band(across, up, factor), _through(across, up, factor.factor, palette.MOVEMENT, None)]
    parts.append(_through(across, up, 1.0, palette.INK, palette.DASHES))
    parts += [
        element(
            "circle",
            cx=across.place(dot.predicted_N),
            cy=up.place(dot.measured_N),
            r=3.4,
            fill=palette.PAPER,
            stroke=palette.INK,
            stroke_width=1.4,
        )
        for dot in dots
    ]
    parts.append(words("measured load, N", (8, 12), text_anchor="start"))
    return drawing(parts, HIGH + 40, "Predicted and measured loads", _said(dots, factor), WIDE)


def _corner(across: Axis, up: Axis, slope: float) -> tuple[float, float]:
    """Where a line from nought leaves the drawing."""
    x = min(across.high, up.high / slope)
    return across.place(x), up.place(slope * x)


def _through(across: Axis, up: Axis, slope: float, colour: str, dashes: str | None) -> str:
    start = (across.place(0), up.place(0))
    return line(start, _corner(across, up, slope), stroke=colour, stroke_width=1.8, stroke_dasharray=dashes)


def _band(across: Axis, up: Axis, factor: Factor) -> str:
    low, high = _corner(across, up, factor.spread_low), _corner(across, up, factor.spread_high)
    beyond = [(across.end, up.end)] if low[0] == across.end and high[1] == up.end else []
    return polygon([(across.place(0), up.place(0)), high, *beyond, low], fill=palette.SHADE)


def _said(dots: Sequence[Dot], factor: Factor | None) -> str:
    said = f"{plural(len(dots), 'bridge')}, measured load over predicted load. "
    above = sum(dot.measured_N >= dot.predicted_N for dot in dots)
    said += f"{above} carried what was predicted or more: they lie on or above the dashed line."
    if factor is None:
        return said
    return (
        f"{said} The full line is their middle, {figure(factor.factor)} times the prediction; 8 of 10 lie in the band, "
        f"from {figure(factor.spread_low)} to {figure(factor.spread_high)} times."
    )
