"""Charts with made-up numbers, drawn as the pages draw real ones."""

from __future__ import annotations

from rubric.drawing import charts
from rubric.language import _
from rubric.messages.outcomes import Figure
from service.help.figures.kit import WIDE

_POINTS = (12.0, 21.0, 19.0, 26.0)
_CLASS = (8.0, 11.0, 14.0, 15.0, 15.0, 18.0, 19.0, 19.0, 20.0, 22.0, 23.0, 24.0, 26.0, 27.0)
_BOARD = (("Amber Heron", 412.0), ("Brisk Otter", 388.0), ("Calm Magpie", 301.0))


def attempts() -> Figure:
    """Points that grow over four attempts."""
    return charts.attempts(_POINTS, _("points"), most=30.0)


def spread() -> Figure:
    """How the points of a class spread."""
    return charts.spread(_CLASS, _("points"), most=30.0)


def board() -> Figure:
    """A board under aliases."""
    return charts.bars(_BOARD, _("efficiency"), own=1, wide=WIDE)
