"""The full-size plan spread over pages: which part of the plane each page shows.

Pages overlap.  In the middle of each overlap runs the seam, where one page is cut and laid on the other.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rubric.drawing.boxes import Box
from worker.feedback.plan.pieces import letters

PAPERS_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4), "A3": (297.0, 420.0)}
"""Width and height of a page that stands upright."""

MARGIN_MM = 10.0
"""Left free on every side; printers leave out 5 to 6 mm."""

STRIP_MM = 22.0
"""At the foot of each page: the bar to measure, the page's name, the map."""

OVERLAP_MM = 10.0
PAD_MM = 9.0
"""Room around the truss for the names of its outer joints."""

_CLEAR_MM = 15.0
"""A joint nearer to a seam than this is awkward to tape and to build on."""

_SHIFTS = sorted((i / 20 for i in range(21)), key=lambda part: abs(part - 0.5))
"""How the room to spare may be shared between the two ends, evenly if no joint minds."""

MOST_PAGES = 60
MOST_PLACES = 400
"""A plan that would take more is not drawn: nobody tapes so many pages together."""

Point = tuple[float, float]


@dataclass(frozen=True)
class Tile:
    """One page: its name, its place in the grid and the plan coordinates of its window's upper left corner."""

    name: str
    row: int
    column: int
    left: float
    top: float

    def place(self, point: Point) -> Point:
        """Where a point of the plan is on the page: mm from its upper left corner, y down."""
        return MARGIN_MM + point[0] - self.left, MARGIN_MM + self.top - point[1]


@dataclass(frozen=True)
class Grid:
    """All pages of a plan, on paper ``wide`` x ``high`` as it lies, each with a window of this size.

    ``left`` and ``top`` are the plan coordinates of the first window's upper left corner.
    """

    paper: str
    wide: float
    high: float
    window: Point
    left: float
    top: float
    rows: int
    columns: int
    tiles: tuple[Tile, ...]

    def at(self, row: int, column: int) -> Tile | None:
        """The page at a place of the grid, or None where the plan needs none."""
        return next((tile for tile in self.tiles if (tile.row, tile.column) == (row, column)), None)

    @property
    def step(self) -> Point:
        """From one page to the next."""
        return self.window[0] - OVERLAP_MM, self.window[1] - OVERLAP_MM


def grid(sticks: Sequence[Box], joints: Sequence[Point], paper: str) -> Grid | None:
    """The pages that show all ``sticks`` (mm, plan coordinates), upright or on their side, whichever are fewer.

    Places of the grid where no stick is get no page, and seams keep clear of ``joints`` where they can.  None
    where too many pages would be needed.
    """
    upright = PAPERS_MM[paper]
    bounds = [stick.bounds for stick in sticks]
    left, right = min(b[0] for b in bounds) - PAD_MM, max(b[2] for b in bounds) + PAD_MM
    low, top = min(b[1] for b in bounds) - PAD_MM, max(b[3] for b in bounds) + PAD_MM
    ways = [upright[::-1], upright] if right - left >= top - low else [upright, upright[::-1]]
    spread = [found for way in ways if (found := _spread(sticks, joints, paper, way, (left, top, right, low)))]
    found = min(spread, key=lambda one: len(one.tiles), default=None)
    return found if found is not None and len(found.tiles) <= MOST_PAGES else None


def _spread(
    sticks: Sequence[Box],
    joints: Sequence[Point],
    paper: str,
    size: Point,
    extent: tuple[float, float, float, float],
) -> Grid | None:
    left, top, right, low = extent
    window = (size[0] - 2 * MARGIN_MM, size[1] - 2 * MARGIN_MM - STRIP_MM)
    columns, rows = _number(right - left, window[0]), _number(top - low, window[1])
    if columns * rows > MOST_PLACES:
        return None
    across = _start((left, right), [x for x, _ in joints], window[0], columns)
    down = _start((-top, -low), [-y for _, y in joints], window[1], rows)
    start = across, -down
    tiles = _tiles(sticks, window, start, rows, columns)
    return Grid(paper, *size, window, *start, rows, columns, tuple(tiles))


def _start(extent: Point, joints: Sequence[float], window: float, number: int) -> float:
    """Where the first window begins, so that joints keep as clear of seams as they can."""
    step = window - OVERLAP_MM
    slack = number * step + OVERLAP_MM - (extent[1] - extent[0])
    starts = [extent[0] - part * slack for part in _SHIFTS]

    def near(start: float) -> float:
        seams = [start + OVERLAP_MM / 2 + i * step for i in range(1, number)]
        short = (max(0.0, _CLEAR_MM - abs(joint - seam)) for joint in joints for seam in seams)
        return round(sum(mm**2 for mm in short), 6)

    return min(starts, key=near)


def _number(length: float, window: float) -> int:
    return max(1, math.ceil((length - OVERLAP_MM) / (window - OVERLAP_MM) - 1e-9))


def _tiles(sticks: Sequence[Box], window: Point, start: Point, rows: int, columns: int) -> Iterator[Tile]:
    """In reading order; of every overlap each page has the half up to the seam as its own."""
    step = window[0] - OVERLAP_MM, window[1] - OVERLAP_MM
    own = Box((0, 0), step[0] / 2, step[1] / 2)
    for row in range(rows):
        for column in range(columns):
            left, top = start[0] + column * step[0], start[1] - row * step[1]
            middle = left + window[0] / 2, top - window[1] / 2
            if any(map(Box(middle, own.along, own.across).touches, sticks)):
                yield Tile(f"{letters(row)}{column + 1}", row, column, left, top)
