"""The pages of the full-size plan as markup: sticks, joints, seams, a bar to measure, a map of all pages."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape

from rubric.drawing.palette import INK, NOTHING, PAPER, SHADE
from rubric.drawing.svg import element
from rubric.drawing.text import clean
from rubric.language import _, counted
from rubric.messages.outcomes import Analysis, JointRow
from rubric.wording import listed
from worker.feedback.plan import markup
from worker.feedback.plan.labels import CROSS_MM, Word, named
from worker.feedback.plan.markup import letter, mm, path, ring
from worker.feedback.plan.outlines import Bar, clipped, cropped
from worker.feedback.plan.pieces import Cutting
from worker.feedback.plan.seams import Seam, seams
from worker.feedback.plan.tiles import MARGIN_MM, OVERLAP_MM, STRIP_MM, Grid, Tile

Point = tuple[float, float]

BAR_MM = 100.0
MAP_MM = (40.0, STRIP_MM - 3)
"""The most that the small map of a page takes."""

_DOUBLED = "#e2e5e9"
_MOST_TOLD = 12


@dataclass(frozen=True)
class PlanPage:
    """One page: its name, its drawing, and the words that lie over it."""

    name: str
    number: int
    drawing: str
    words: tuple[Word, ...]


def pages(analysis: Analysis, bars: tuple[Bar, ...], cutting: Cutting, grid: Grid) -> tuple[PlanPage, ...]:
    """Every page of the plan, in reading order."""
    return tuple(
        _page(number, tile, analysis.joints, bars, cutting, grid) for number, tile in enumerate(grid.tiles, start=1)
    )


def _page(
    number: int, tile: Tile, joints: tuple[JointRow, ...], bars: tuple[Bar, ...], cutting: Cutting, grid: Grid
) -> PlanPage:
    edges = list(seams(grid, tile))
    here = [bar for bar in bars if _on(grid, tile, bar)]
    parts = [
        *(part for bar in here for part in _fill(grid, tile, bar)),
        *(part for bar in here for part in _stick(grid, tile, bar)),
        *(part for joint in joints for part in _joint(grid, tile, joint)),
        *(part for edge in edges for part in _seam(tile, edge)),
        *_measure(grid),
        *_small_map(grid, tile, bars),
    ]
    drawing = element(
        "svg",
        element("title", escape(clean(_said(tile, here, len(grid.tiles)), 2000))),
        *parts,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {mm(grid.wide)} {mm(grid.high)}",
        width=f"{mm(grid.wide)}mm",
        height=f"{mm(grid.high)}mm",
        role="img",
        font_family="Andika, sans-serif",
        fill=INK,
    )
    return PlanPage(tile.name, number, drawing, tuple(named(grid, tile, bars, joints, cutting, edges)))


def _said(tile: Tile, bars: list[Bar], count: int) -> str:
    names = [bar.member.name for bar in bars]
    more = len(names) - _MOST_TOLD
    first = ", ".join(names[:_MOST_TOLD])
    shown = listed(names) if more <= 0 else _("{names} and {count} more", names=first, count=more)
    page = counted(
        "Page {name} of {count} page of the full-size plan:",
        "Page {name} of {count} pages of the full-size plan:",
        count,
        name=tile.name,
    )
    one = _("the outlines of member {names} at their true size.", names=shown)
    many = _("the outlines of members {names} at their true size.", names=shown)
    return f"{page} {one if len(names) == 1 else many}"


def _window(grid: Grid) -> tuple[Point, Point]:
    return (MARGIN_MM, MARGIN_MM), (MARGIN_MM + grid.window[0], MARGIN_MM + grid.window[1])


def _outline(tile: Tile, bar: Bar) -> tuple[Point, ...]:
    return tuple(tile.place(corner) for corner in bar.corners)


def _on(grid: Grid, tile: Tile, bar: Bar) -> bool:
    return len(cropped(_outline(tile, bar), *_window(grid))) > 2


def _fill(grid: Grid, tile: Tile, bar: Bar) -> Iterator[str]:
    if bar.member.count > 1:
        yield path(cropped(_outline(tile, bar), *_window(grid)), closed=True, fill=_DOUBLED)


def _stick(grid: Grid, tile: Tile, bar: Bar) -> Iterator[str]:
    """Its edges, and its centre line."""
    corners = _outline(tile, bar)
    for edge in zip(corners, (*corners[1:], corners[0]), strict=True):
        seen = clipped(edge, *_window(grid))
        if seen:
            yield path(seen, stroke=INK, stroke_width=markup.OUTLINE_MM, stroke_linecap="round")
    centre = clipped((tile.place(bar.start), tile.place(bar.end)), *_window(grid))
    if centre:
        yield path(centre, stroke=NOTHING, stroke_width=markup.CENTRE_MM, stroke_dasharray=markup.CENTRE_DASHES)


def _joint(grid: Grid, tile: Tile, joint: JointRow) -> Iterator[str]:
    at, (low, high) = tile.place((joint.x_mm, joint.y_mm)), _window(grid)
    if all(low[i] <= at[i] <= high[i] for i in (0, 1)):
        yield ring(at, 0.9, stroke=INK, stroke_width=markup.OUTLINE_MM, fill=PAPER)


def _seam(tile: Tile, edge: Seam) -> Iterator[str]:
    line = tile.place(edge.start), tile.place(edge.end)
    yield path(line, stroke=INK, stroke_width=markup.SEAM_MM, stroke_dasharray=markup.SEAM_DASHES)
    for x, y in map(tile.place, edge.crosses):
        for part in ([(x - CROSS_MM, y), (x + CROSS_MM, y)], [(x, y - CROSS_MM), (x, y + CROSS_MM)]):
            yield path(part, stroke=INK, stroke_width=markup.SEAM_MM)
        yield ring((x, y), CROSS_MM / 2, stroke=INK, stroke_width=markup.SEAM_MM)


def _measure(grid: Grid) -> Iterator[str]:
    """A bar of 100 mm in steps of 10 mm."""
    left, y = MARGIN_MM, grid.high - MARGIN_MM - STRIP_MM + 5
    for step in range(0, 10, 2):
        x = left + 10 * step
        yield path([(x, y), (x + 10, y), (x + 10, y + 2.5), (x, y + 2.5)], closed=True, fill=INK)
    ends = [(left, y), (left + BAR_MM, y), (left + BAR_MM, y + 2.5), (left, y + 2.5)]
    yield path(ends, closed=True, stroke=INK, stroke_width=markup.SEAM_MM)
    for text, at in (("0 mm", 3.6), ("50", 50.0), ("100", BAR_MM - 2.2)):
        yield letter(text, (left + at, y + 5), 2.6)


def _small_map(grid: Grid, tile: Tile, bars: tuple[Bar, ...]) -> Iterator[str]:
    if len(grid.tiles) < 2:
        return
    size = map_size(grid, MAP_MM)
    at = grid.wide - MARGIN_MM - size[0], grid.high - MARGIN_MM - size[1]
    yield element("g", *page_map(grid, bars, size, tile), transform=f"translate({mm(at[0])} {mm(at[1])})")


def map_size(grid: Grid, most: Point) -> Point:
    """How large a map of all pages is drawn that is to keep within ``most``."""
    wide, high = grid.columns * grid.step[0], grid.rows * grid.step[1]
    scale = min(most[0] / wide, most[1] / high)
    return wide * scale, high * scale


def page_map(grid: Grid, bars: tuple[Bar, ...], size: Point, here: Tile | None = None) -> Iterator[str]:
    """All pages with their names and the truss across them; the page ``here`` is shaded."""
    scale = size[0] / (grid.columns * grid.step[0])
    wide, high = grid.step[0] * scale, grid.step[1] * scale
    for tile in grid.tiles:
        x, y = tile.column * wide, tile.row * high
        corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
        fill = "#c9ced6" if tile == here else PAPER if here else SHADE
        yield path(corners, closed=True, fill=fill, stroke=INK, stroke_width=0.2)
    half = OVERLAP_MM / 2
    for bar in bars:
        ends = [((x - grid.left - half) * scale, (grid.top - half - y) * scale) for x, y in (bar.start, bar.end)]
        yield path(ends, stroke=NOTHING, stroke_width=0.25)
    text = max(2.2, min(4.4, 0.3 * high, 0.25 * wide))
    for tile in grid.tiles:
        corner = tile.column * wide + 0.5 * text + 0.3 * text * len(tile.name), tile.row * high + 0.8 * text
        yield letter(tile.name, corner, text, font_weight="bold")
