"""From millimetres to the page: one scale, unless the truss is too flat or too slim to read."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rubric.drawing.palette import WIDTH
from rubric.drawing.svg import Point
from rubric.language import _
from rubric.wording import figure

MARGIN = 62.0
"""Left and right of the truss: room for supports, arrows and names."""
TALLEST = 300.0
LEAST = (100.0, 60.0)
STRETCHED = (160.0, 95.0)
"""A truss drawn narrower or lower than the least is stretched to this, and the drawing says so.

All three are of a drawing of full width; a smaller one has its share of LEAST and STRETCHED."""


@dataclass(frozen=True)
class Frame:
    """``x`` and ``y`` units of the drawing per mm; ``left``, ``low``: the mm drawn at the origin."""

    x: float
    y: float
    left: float
    low: float
    start: float

    def place(self, point: Iterable[float]) -> Point:
        """A point in mm, y up, on the page, y down."""
        px, py = point
        return self.start + (px - self.left) * self.x, (self.low - py) * self.y

    @property
    def note(self) -> str:
        """How the drawing is stretched, in words; nothing where it is true to scale."""
        ratio = self.y / self.x
        if 0.99 < ratio < 1.01:
            return ""
        if ratio > 1:
            text = _("Heights are drawn {times} times too large, so that the members can be told apart.")
        else:
            text = _("Widths are drawn {times} times too large, so that the members can be told apart.")
        return text.format(times=figure(max(ratio, 1 / ratio), 2))


def fitted(
    points: Iterable[Iterable[float]], margin: float = MARGIN, wide: float = WIDTH, tallest: float = TALLEST
) -> Frame:
    """The frame that puts all ``points`` (mm) on a drawing so wide, the lowest at y = 0."""
    xs, ys = zip(*(tuple(point) for point in points), strict=True)
    long, high = max(xs) - min(xs), max(ys) - min(ys)
    room = wide - 2 * margin
    scales = [limit / extent for limit, extent in ((room, long), (tallest, high)) if extent > 0]
    scale = min(scales, default=1.0)
    sx, sy = (_stretched(scale, (long, high), i, wide / WIDTH) for i in (0, 1))
    return Frame(sx, sy, min(xs), min(ys), (wide - long * sx) / 2)


def _stretched(scale: float, extents: tuple[float, float], i: int, share: float) -> float:
    straight = extents[i] <= 1e-6 * max(extents)
    return scale if straight or scale * extents[i] >= share * LEAST[i] else share * STRETCHED[i] / extents[i]
