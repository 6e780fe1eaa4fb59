"""Predicted against measured load: a dot for each bridge, the line of agreement, the factor of all and its band."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rubric.contest.factor import Factor
from rubric.drawing import palette
from rubric.drawing.axis import Axis, axis, level, upright
from rubric.drawing.svg import drawing, element, line, polygon, words
from rubric.language import _, counted
from rubric.messages.outcomes import Figure
from rubric.wording import figure


@dataclass(frozen=True)
class Format:
    """Sizes in units of the drawing: its frame, letters and dots."""

    high: float
    left: float
    right: float
    top: float
    letters: float
    names: float
    """Letters of what an axis counts."""
    dot: float
    ticks: int
    wide: float = 560.0


ON_PAPER = Format(360.0, 62.0, 26.0, 30.0, letters=10.5, names=palette.TEXT, dot=3.4, ticks=7)
ON_THE_WALL = Format(300.0, 92.0, 40.0, 44.0, letters=24.0, names=22.0, dot=8.0, ticks=4)
"""Read from ten metres: few and large letters."""


@dataclass(frozen=True)
class Dot:
    """One bridge: its number, predicted and measured load in N."""

    number: int
    predicted_N: float
    measured_N: float
    marked: bool = False
    """Whether it is drawn full, to be found among the others."""


def agreement(dots: Sequence[Dot], factor: Factor | None, form: Format = ON_PAPER) -> Figure:
    """Draw predicted (to the right) against measured load (up), N, both from nought."""
    both = [load for dot in dots for load in (dot.predicted_N, dot.measured_N)]  # one scale: agreement is the diagonal
    right = form.wide - form.right
    across = axis(both, form.left, right, form.ticks, from_nought=True)
    up = axis(both, form.high, form.top, form.ticks, from_nought=True)
    below = form.high + 5 + 25 * form.names / palette.TEXT
    parts = [upright(up, form.left, right, form.letters), level(across, form.high, "", form.letters)]
    parts.append(words(_("predicted load, N"), ((form.left + right) / 2, below), font_size=form.names))
    if factor is not None:
        parts += [_band(across, up, factor), _through(across, up, factor.factor, palette.MOVEMENT, None)]
    parts.append(_through(across, up, 1.0, palette.INK, palette.DASHES))
    parts += [
        element(
            "circle",
            cx=across.place(dot.predicted_N),
            cy=up.place(dot.measured_N),
            r=form.dot,
            fill=palette.INK if dot.marked else palette.PAPER,
            stroke=palette.INK,
            stroke_width=1.4,
        )
        for dot in sorted(dots, key=lambda one: one.marked)
    ]
    parts.append(words(_("measured load, N"), (8, form.names), text_anchor="start", font_size=form.names))
    height = below + form.names
    return drawing(parts, height, _("Predicted and measured loads"), _said(dots, factor), form.wide)


def _corner(across: Axis, up: Axis, slope: float) -> tuple[float, float]:
    """Where a line from nought leaves the drawing."""
    x = min(across.high, up.high / slope)
    return across.place(x), up.place(slope * x)


def _through(across: Axis, up: Axis, slope: float, colour: str, dashes: str | None) -> str:
    start = (across.place(0), up.place(0))
    return line(start, _corner(across, up, slope), stroke=colour, stroke_width=1.8, stroke_dasharray=dashes)


def _band(across: Axis, up: Axis, factor: Factor) -> str:
    low, high = _corner(across, up, factor.spread_low), _corner(across, up, factor.spread_high)
    around = up.high / factor.spread_high < across.high < up.high / factor.spread_low  # out at the top and at the side
    beyond = [(across.place(across.high), up.place(up.high))] if around else []
    return polygon([(across.place(0), up.place(0)), high, *beyond, low], fill=palette.SHADE)


def _said(dots: Sequence[Dot], factor: Factor | None) -> str:
    above = sum(dot.measured_N >= dot.predicted_N for dot in dots)
    said = [
        counted(
            "{count} bridge, measured load over predicted load.",
            "{count} bridges, measured load over predicted load.",
            len(dots),
        ),
        _("{count} carried what was predicted or more: they lie on or above the dashed line.", count=above),
    ]
    if factor is not None:
        text = _(
            "The full line is their middle, {factor} times the prediction; 8 of 10 lie in the band, "
            "from {low} to {high} times."
        )
        low, high = figure(factor.spread_low), figure(factor.spread_high)
        said.append(text.format(factor=figure(factor.factor), low=low, high=high))
    return " ".join(said)
