"""Names on a page of the plan: beside each stick its piece, its member and its length; at each joint its name."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from rubric.drawing.boxes import Space, strip
from rubric.drawing.labels import Label, along, around
from rubric.drawing.text import clean
from rubric.language import _
from rubric.messages.outcomes import JointRow
from rubric.wording import localised
from worker.feedback.figures.spoken import held_said
from worker.feedback.joined import needs_joining
from worker.feedback.plan.outlines import Bar, clipped
from worker.feedback.plan.pieces import Cutting, Piece
from worker.feedback.plan.seams import Seam
from worker.feedback.plan.tiles import MARGIN_MM, Grid, Tile

Point = tuple[float, float]

JOINT_MM, MEMBER_MM, SEAM_MM = 4.0, 3.0, 2.5
"""Sizes of letters."""

CROSS_MM = 4.0
"""Half the length of a register mark."""

_ISOLATE, _END = "\u2068", "\u2069"
"""Of Unicode: what stands between them is set on its own."""

_SHORT_MM = 8.0
"""With less of a stick than this on a page it has no name there."""

_OVERHANG = 1.3
"""A name longer than its stick times this would seem to belong to the next one."""


@dataclass(frozen=True)
class Word:
    """A line of text centred on a place, mm from the upper left corner of the page, turned clockwise."""

    text: str
    x: float
    y: float
    size: float
    turned: float = 0.0
    bold: bool = False


@dataclass
class Desk:
    """One page while names are laid on it: its window, what is taken, what was laid."""

    grid: Grid
    tile: Tile
    space: Space
    words: list[Word]

    @classmethod
    def of(cls, grid: Grid, tile: Tile) -> Desk:
        """With nothing on it."""
        return cls(grid, tile, Space(), [])

    @property
    def corners(self) -> tuple[Point, Point]:
        """Of the window, on the page."""
        wide, high = self.grid.window
        return (MARGIN_MM, MARGIN_MM), (MARGIN_MM + wide, MARGIN_MM + high)

    def shows(self, at: Point) -> bool:
        """Whether a place of the page is within the window."""
        low, high = self.corners
        return all(low[i] <= at[i] <= high[i] for i in (0, 1))

    def lay(self, label: Label, places: Iterable[tuple[Point, Point]]) -> bool:
        """The label at the first free place within the window, if there is one."""
        (left, top), (right, low) = self.corners
        for at, axis in places:
            box = label.box(at, axis)
            west, north, east, south = box.bounds
            if west >= left and east <= right and north >= top and south <= low and self.space.free(box):
                self.space.take(box)
                turned = math.degrees(math.atan2(axis[1], axis[0]))
                self.words.append(Word(label.text, *at, label.size, turned, label.bold))
                return True
        return False


def named(
    grid: Grid, tile: Tile, bars: tuple[Bar, ...], joints: tuple[JointRow, ...], cutting: Cutting, edges: list[Seam]
) -> list[Word]:
    """All names of one page, none of which touches a stick, a seam or another name."""
    desk = Desk.of(grid, tile)
    shown = list(_shown(desk, bars))
    for bar in bars:
        desk.space.take(*strip(tile.place(bar.start), tile.place(bar.end), bar.width_mm + 0.6))
    for edge in edges:
        desk.space.take(*strip(tile.place(edge.start), tile.place(edge.end), 0.6))
        for cross in map(tile.place, edge.crosses):
            desk.space.take(*strip((cross[0] - CROSS_MM, cross[1]), (cross[0] + CROSS_MM, cross[1]), 2 * CROSS_MM))
    middle = tile.place(_middle(bars))
    for joint in joints:
        _joint(desk, joint, bars, middle)
    for bar, line in shown:
        _member(desk, bar, line, cutting.of(bar.member), middle)
    for edge in edges:
        _edge(desk, edge)
    return desk.words


def _shown(desk: Desk, bars: tuple[Bar, ...]) -> Iterator[tuple[Bar, tuple[Point, Point]]]:
    """The centre lines that the page shows, cut off at its window."""
    for bar in bars:
        line = clipped((desk.tile.place(bar.start), desk.tile.place(bar.end)), *desk.corners)
        if line is not None:
            yield bar, line


def _middle(bars: tuple[Bar, ...]) -> Point:
    ends = [end for bar in bars for end in (bar.start, bar.end)]
    return sum(x for x, _ in ends) / len(ends), sum(y for _, y in ends) / len(ends)


def _joint(desk: Desk, joint: JointRow, bars: tuple[Bar, ...], middle: Point) -> None:
    at = desk.tile.place((joint.x_mm, joint.y_mm))
    if not desk.shows(at):
        return
    widths = [bar.width_mm for bar in bars if joint.name in (bar.member.start, bar.member.end)]
    outward = (at[0] - middle[0], at[1] - middle[1])
    name = _apart(clean(joint.name, 20))
    for text in [held_said(name, joint.support), name] if joint.support else [name]:
        if desk.lay(Label(text, JOINT_MM, bold=True), around(at, Label(text, JOINT_MM), max(widths) / 2, outward)):
            return


def _member(desk: Desk, bar: Bar, line: tuple[Point, Point], piece: Piece, middle: Point) -> None:
    length = math.dist(*line)
    if length < min(_SHORT_MM, math.dist(bar.start, bar.end)):
        return
    name = _apart(clean(bar.member.name, 30))
    times = f" ×{bar.member.count}" if bar.member.count > 1 else ""
    for text in (
        f"{piece.letter}{times}: {name}, {localised(f'{piece.length_mm:g}')} mm",
        f"{piece.letter}{times}: {name}",
        f"{piece.letter}{times}",
    ):
        label = Label(text, MEMBER_MM)
        if label.width <= _OVERHANG * length and desk.lay(label, along(*line, label, bar.width_mm / 2, middle)):
            return


def _apart(name: str) -> str:
    """A name that runs from the right keeps to itself, and leaves the figures beside it in their order."""
    return f"{_ISOLATE}{name}{_END}" if needs_joining(name) else name


def _edge(desk: Desk, edge: Seam) -> None:
    """What to do at a seam, beside it on the outer half of the overlap."""
    a, b = desk.tile.place(edge.start), desk.tile.place(edge.end)
    (left, top), (right, low) = desk.corners
    text = _("cut here, lay on {page}") if edge.cut else _("{page} comes to this line")
    label = Label(text.format(page=edge.neighbour), SEAM_MM)
    upright = a[0] == b[0]
    outer = -1 if (a[0] - left < right - a[0] if upright else a[1] - top < low - a[1]) else 1
    axis = (0.0, -1.0) if upright else (1.0, 0.0)
    off = outer * (label.height / 2 + 1.6)
    parts = (0.5, 0.4, 0.6, 0.32, 0.68, 0.1, 0.9)
    spots = [(a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])) for part in parts]
    desk.lay(label, (((x + off, y) if upright else (x, y + off), axis) for x, y in spots))
