"""What is occupied on a drawing: turned rectangles, and whether two of them touch."""

from __future__ import annotations

import math
import unicodedata
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from worker.feedback.figures.svg import Point

_CELL = 40.0
_NARROW = frozenset("iljtfrI.,:;'!|()[]- ")
_WIDE = frozenset("mwMWQOGD@%—…")


def text_width(text: str, size: float) -> float:
    """Width of a line of text, a little on the safe side, without asking a font."""
    return size * sum(map(_advance, text))


def _advance(character: str) -> float:
    if character.isdigit():
        return 0.59
    if character in _NARROW:
        return 0.36
    if unicodedata.combining(character):
        return 0.0
    if unicodedata.east_asian_width(character) in "WF":
        return 1.02
    return 0.92 if character in _WIDE else 0.7 if character.isupper() else 0.6


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle ``2 along`` x ``2 across`` about ``at``, its long side along the unit vector ``axis``."""

    at: Point
    along: float
    across: float
    axis: Point = (1.0, 0.0)

    @property
    def reach(self) -> Point:
        """Half width and half height of the upright rectangle around it."""
        c, s = abs(self.axis[0]), abs(self.axis[1])
        return self.along * c + self.across * s, self.along * s + self.across * c

    def touches(self, other: Box) -> bool:
        """Whether the two share any point (separating axes)."""
        dx, dy = other.at[0] - self.at[0], other.at[1] - self.at[1]
        if math.hypot(dx, dy) > self.along + self.across + other.along + other.across:
            return False
        for ux, uy in (self.axis, other.axis):
            for nx, ny in ((ux, uy), (-uy, ux)):
                if abs(dx * nx + dy * ny) > self._shadow(nx, ny) + other._shadow(nx, ny):
                    return False
        return True

    def _shadow(self, nx: float, ny: float) -> float:
        ax, ay = self.axis
        return self.along * abs(ax * nx + ay * ny) + self.across * abs(ax * ny - ay * nx)


def strip(a: Point, b: Point, width: float, piece: float = 36.0) -> list[Box]:
    """A line of this width as a chain of short boxes, so that each lies in few cells."""
    length = math.dist(a, b)
    if length == 0:
        return []
    axis = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    count = max(1, math.ceil(length / piece))
    half = length / count / 2
    steps = [(2 * i + 1) * half for i in range(count)]
    return [Box((a[0] + axis[0] * s, a[1] + axis[1] * s), half, width / 2, axis) for s in steps]


@dataclass
class Space:
    """The boxes taken so far, found quickly by the cells of a grid that they lie in."""

    taken: list[Box] = field(default_factory=list)
    cells: dict[tuple[int, int], list[Box]] = field(default_factory=lambda: defaultdict(list))

    def take(self, *boxes: Box) -> None:
        """Occupy these boxes."""
        for box in boxes:
            self.taken.append(box)
            for cell in _cells(box):
                self.cells[cell].append(box)

    def clashes(self, *boxes: Box) -> int:
        """How many taken boxes these would touch (one that lies in two cells may count twice)."""
        return sum(box.touches(other) for box in boxes for cell in _cells(box) for other in self.cells.get(cell, ()))

    def free(self, box: Box) -> bool:
        """Whether nothing taken touches this box."""
        return not any(box.touches(other) for cell in _cells(box) for other in self.cells.get(cell, ()))

    @property
    def top(self) -> float:
        """The highest point taken (smallest y)."""
        return min((box.at[1] - box.reach[1] for box in self.taken), default=0.0)

    @property
    def bottom(self) -> float:
        """The lowest point taken (largest y)."""
        return max((box.at[1] + box.reach[1] for box in self.taken), default=0.0)


def _cells(box: Box) -> Iterator[tuple[int, int]]:
    rx, ry = box.reach
    for i in range(int((box.at[0] - rx) // _CELL), int((box.at[0] + rx) // _CELL) + 1):
        for j in range(int((box.at[1] - ry) // _CELL), int((box.at[1] + ry) // _CELL) + 1):
            yield i, j
