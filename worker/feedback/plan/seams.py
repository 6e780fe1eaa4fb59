"""Where pages meet: the seam down the middle of each overlap, and the crosses that must fall together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from worker.feedback.plan.tiles import OVERLAP_MM, Grid, Tile

Point = tuple[float, float]

_CROSSES = (0.2, 0.8)
"""How far along the seam they stand."""


@dataclass(frozen=True)
class Seam:
    """One edge of a page: a line in plan coordinates that the neighbour has too.

    ``cut``: this page is cut along it and laid on the neighbour; else the neighbour's edge comes to lie on it.
    """

    start: Point
    end: Point
    neighbour: str
    cut: bool

    @property
    def crosses(self) -> tuple[Point, ...]:
        """Places of the register marks, plan coordinates."""
        (ax, ay), (bx, by) = self.start, self.end
        return tuple((ax + part * (bx - ax), ay + part * (by - ay)) for part in _CROSSES)


def seams(grid: Grid, tile: Tile) -> Iterator[Seam]:
    """The seams of a page.  It is cut on the left and above, where there is a page to lay it on."""
    half, (wide, high) = OVERLAP_MM / 2, grid.window
    left, right = tile.left + half, tile.left + wide - half
    top, low = tile.top - half, tile.top - high + half
    edges = (
        (0, -1, (left, tile.top), (left, tile.top - high), True),
        (0, 1, (right, tile.top), (right, tile.top - high), False),
        (-1, 0, (tile.left, top), (tile.left + wide, top), True),
        (1, 0, (tile.left, low), (tile.left + wide, low), False),
    )
    for down, across, start, end, cut in edges:
        neighbour = grid.at(tile.row + down, tile.column + across)
        if neighbour is not None:
            yield Seam(start, end, neighbour.name, cut)
