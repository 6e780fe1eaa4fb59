"""What is occupied on a drawing: turned rectangles, and whether two of them touch."""

from __future__ import annotations

import math
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from itertools import product

from rubric.drawing.palette import WIDTH
from rubric.drawing.svg import Point

_CELL = 60.0
Bounds = tuple[float, float, float, float]
"""Left, top, right and bottom of an upright rectangle."""

_NARROW = frozenset("iljtfrI.,:;'!|()[]- \u00a0")
_WIDE = frozenset("mwMWQOGD@%—…")


def text_width(text: str, size: float) -> float:
    """Width of a line of text, a little on the safe side, without asking a font."""
    return size * sum(map(_advance, text))


@cache
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


@dataclass(slots=True, init=False)
class Box:
    """A rectangle ``2 along`` x ``2 across`` about ``at``, its long side along the unit vector ``axis``.

    Nobody changes one.  It is not frozen, and made by hand, because tens of thousands are made for a drawing.
    """

    at: Point
    along: float
    across: float
    axis: Point
    bounds: Bounds = field(compare=False, repr=False)
    """The upright rectangle around it."""

    def __init__(
        self, at: Point, along: float, across: float, axis: Point = (1.0, 0.0), reach: Point | None = None
    ) -> None:
        """``reach``: that of the property, where it is known."""
        self.at, self.along, self.across, self.axis = at, along, across, axis
        (x, y), (rx, ry) = at, reach or _reach(along, across, axis)
        self.bounds = (x - rx, y - ry, x + rx, y + ry)

    @property
    def reach(self) -> Point:
        """Half width and half height of the upright rectangle around it."""
        return _reach(self.along, self.across, self.axis)

    def touches(self, other: Box) -> bool:
        """Whether the two share any point: no side of either parts them (separating axes)."""
        (dx, dy), (ux, uy), (vx, vy) = (other.at[0] - self.at[0], other.at[1] - self.at[1]), self.axis, other.axis
        c, s = abs(ux * vx + uy * vy), abs(ux * vy - uy * vx)
        return (
            abs(dx * ux + dy * uy) <= self.along + other.along * c + other.across * s
            and abs(dy * ux - dx * uy) <= self.across + other.along * s + other.across * c
            and abs(dx * vx + dy * vy) <= other.along + self.along * c + self.across * s
            and abs(dy * vx - dx * vy) <= other.across + self.along * s + self.across * c
        )


def _reach(along: float, across: float, axis: Point) -> Point:
    c, s = abs(axis[0]), abs(axis[1])
    return along * c + across * s, along * s + across * c


def strip(a: Point, b: Point, width: float, piece: float = 36.0) -> list[Box]:
    """A line of this width as a chain of short boxes, so that each lies in few cells."""
    length = math.dist(a, b)
    if length == 0:
        return []
    ux, uy = axis = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    count = max(1, math.ceil(length / piece))
    half, across, (x, y) = length / count / 2, width / 2, a
    reach = _reach(half, across, axis)
    middles = [(2 * i + 1) * half for i in range(count)]
    return [Box((x + ux * s, y + uy * s), half, across, axis, reach) for s in middles]


@dataclass
class Space:
    """The boxes taken so far, found quickly by the cells of a grid that they lie in; ``wide`` is the drawing."""

    taken: list[Box] = field(default_factory=list)
    cells: dict[tuple[int, int], list[tuple[Bounds, Box]]] = field(default_factory=lambda: defaultdict(list))
    wide: float = WIDTH
    words: list[Box] = field(default_factory=list)
    """Those of the boxes taken that hold words: no line may cross them, whatever else it crosses."""

    def copy(self) -> Space:
        """The same room, to try something in."""
        cells = {cell: boxes.copy() for cell, boxes in self.cells.items()}
        return Space(self.taken.copy(), defaultdict(list, cells), self.wide, self.words.copy())

    def take(self, *boxes: Box) -> None:
        """Occupy these boxes."""
        cells = self.cells
        for box in boxes:
            self.taken.append(box)
            entry = (box.bounds, box)
            for cell in _cells(box.bounds):
                cells[cell].append(entry)

    def write(self, box: Box) -> None:
        """Occupy a box with words."""
        self.take(box)
        self.words.append(box)

    def legible(self, *boxes: Box) -> bool:
        """Whether these boxes would cross no words."""
        return not any(box.touches(word) for box in boxes for word in self.words)

    def clashes(self, *boxes: Box) -> int:
        """How many taken boxes these would touch (one that lies in two cells may count twice)."""
        return sum(box.touches(other) for box in boxes for other in self._near(box))

    def free(self, box: Box) -> bool:
        """Whether nothing taken touches this box."""
        # Asked tens of thousands of times for one drawing, so written out: most is parted by its bounds alone.
        left, top, right, bottom = box.bounds
        taken, rows = self.cells.get, range(int(top // _CELL), int(bottom // _CELL) + 1)
        for column in range(int(left // _CELL), int(right // _CELL) + 1):
            for row in rows:
                for (west, north, east, south), other in taken((column, row), ()):
                    if west <= right and east >= left and north <= bottom and south >= top and box.touches(other):
                        return False
        return True

    def _near(self, box: Box) -> Iterator[Box]:
        """The taken boxes whose bounds meet those of this one; few do, and only these are worth a closer look."""
        left, top, right, bottom = bounds = box.bounds
        for cell in _cells(bounds):
            for (west, north, east, south), other in self.cells.get(cell, ()):
                if west <= right and east >= left and north <= bottom and south >= top:
                    yield other

    @property
    def top(self) -> float:
        """The highest point taken (smallest y)."""
        return min((box.bounds[1] for box in self.taken), default=0.0)

    @property
    def bottom(self) -> float:
        """The lowest point taken (largest y)."""
        return max((box.bounds[3] for box in self.taken), default=0.0)


def _cells(bounds: Bounds) -> Iterable[tuple[int, int]]:
    left, top, right, bottom = bounds
    west, east, north, south = int(left // _CELL), int(right // _CELL), int(top // _CELL), int(bottom // _CELL)
    if west == east and north == south:
        return ((west, north),)
    return product(range(west, east + 1), range(north, south + 1))
