"""One joint cut free: every force on it as an arrow, at its true angle."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from rubric.drawing import palette
from rubric.drawing.boxes import Box, Space, strip
from rubric.drawing.labels import Label, around, placed, stacked
from rubric.drawing.svg import Point, drawing, element, line, polyline
from rubric.drawing.text import clean
from rubric.language import _, counted, later
from rubric.messages.outcomes import Analysis, Figure, JointRow
from rubric.wording import listed
from worker.feedback.figures.legend import Legend
from worker.feedback.figures.parts import arrow, head, joint, member, moved
from worker.feedback.figures.spoken import direction_said, name
from worker.feedback.worked.equilibrium import Line, decimals_of, lines
from worker.feedback.worked.numbers import Decimals, angle_said

WIDE = 320.0
"""About 76 mm as printed: two stand side by side."""
_LONG = 62.0
_NEAR, _FAR = 11.0, 60.0
"""Where an arrow begins, from the joint: the further, the nearer its neighbours are in angle."""
_APART = 13.0
"""Room between two arrows where they begin."""
_LEVEL = 0.05
"""Degrees from level or upright that are not told."""
_SIZES = (11.0, 9.0)
_NAME = 14
"""Characters of a name beside its arrow."""
_ARCS = (26.0, 38.0, 50.0)


@dataclass(frozen=True)
class _Arrow:
    """A force on the joint, on the page.

    ``side``: unit vector from the joint to where the arrow lies; ``outward``: it leaves the joint; ``kind``: a
    member's ``T``, ``C`` or ``0``, else what it is; ``degrees`` from the level, None where level or upright.
    """

    name: str
    text: str
    kind: str
    side: Point
    outward: bool
    degrees: float | None
    begins: float = _NEAR
    aside: float = 0.0

    @property
    def bearing(self) -> float:
        return math.atan2(self.side[1], self.side[0])

    def point(self, distance: float) -> Point:
        """On the arrow, so far from the joint at the origin."""
        return moved(moved((0.0, 0.0), self.side, distance), (-self.side[1], self.side[0]), self.aside)

    @property
    def ends(self) -> tuple[Point, Point]:
        """Nearest to the joint, furthest from it."""
        return self.point(self.begins), self.point(self.begins + _LONG)


def joint_body(analysis: Analysis, joint_name: str) -> Figure:
    """Draw the free body of one joint of a stable truss, with the numbers that ``worked.balance`` sums, N.

    A member in tension pulls away from the joint, one in compression pushes towards it.  Angles are those of the
    truss, measured from the level.  Forces without room are left out and counted.

    Raises
    ------
    KeyError
        Where the truss has no such joint.
    """
    row = {found.name: found for found in analysis.joints}[joint_name]
    space = Space(wide=WIDE)
    centre = (WIDE / 2, 0.0)
    arrows = [_at(one, centre) for one in _spaced(_arrows(analysis, row))]
    space.take(Box(centre, 6, 6))
    for _arrow, (near, far) in arrows:
        space.take(*strip(centre, near, 2), *strip(near, far, 13))
    shafts = [_drawn(one, centre, near, far) for one, (near, far) in arrows]
    arcs = [_arc(one, centre, [other for other, _ends in arrows], space) for one, _ends in arrows]
    blocks = [_block(one, ends, not arc, space) for (one, ends), arc in zip(arrows, arcs, strict=True)]
    known = Label(name(joint_name)[:9], bold=True)
    title = placed(known, around(centre, known, 7, (0.3, 1.0)), space)
    parts = [*arcs, *shafts, joint(centre, 4.6), *blocks, title, _axes(space)]
    legend = Legend(space.bottom - space.top + 14, WIDE)
    missing = sum(not block for block in blocks)
    if missing:
        legend.say(counted("{count} force had no room here.", "{count} forces had no room here.", missing))
    moved_down = element("g", *parts, transform=f"translate(0 {6 - space.top:.1f})")
    bottom = legend.bottom if missing else space.bottom - space.top + 12
    title_said = _("Joint {joint} cut free", joint=name(joint_name))
    return drawing([moved_down, *legend.parts], bottom, title_said, _said(row, arrows), WIDE)


def _arrows(analysis: Analysis, row: JointRow) -> list[_Arrow]:
    """Members first, then each of the others on the side where it has most room."""
    found = lines(analysis, row)
    decimals = decimals_of(found)
    arrows = [_member(one, decimals) for one in found if one.way is not None]
    for one in found:
        if one.way is None:
            for part in _parts(one):
                arrows.append(_beside(one, part, decimals, arrows))
    return arrows


def _member(one: Line, decimals: Decimals) -> _Arrow:
    assert one.way is not None
    force_N = one.force_N or 0.0
    kind = "T" if force_N > 0 else "C" if force_N < 0 else "0"
    text = f"{decimals.said(abs(force_N))} N {kind}" if force_N else "0"
    return _Arrow(one.name, text, kind, (one.way[0], -one.way[1]), force_N > 0, _degrees(one.way))


def _parts(one: Line) -> list[Point]:
    """A support is told by its upright and its level part, any other force as it is."""
    x, y = one.parts
    parts = [(0.0, y), (x, 0.0)] if one.name == "support" else [(x, y)]
    least = 1e-6 * math.hypot(x, y)
    return [part for part in parts if math.hypot(*part) > least]


def _beside(one: Line, force: Point, decimals: Decimals, others: list[_Arrow]) -> _Arrow:
    """On the side from which it pushes, unless the other side is much freer; beside an arrow that is in the way."""
    size = math.hypot(*force)
    way = (force[0] / size, -force[1] / size)
    back = (-way[0], -way[1])
    text = f"{decimals.said(size)} N"
    pushing = _Arrow(one.said, text, one.name, back, False, _degrees(force))
    pulling = _Arrow(one.said, text, one.name, way, True, _degrees(force))
    room = [_gap(way, others) for way in (pushing, pulling)]
    chosen = pushing if room[0] >= min(room[1], math.radians(25)) else pulling
    if max(room) >= math.radians(8):
        return chosen
    taken = {other.aside for other in others if _apart(other, chosen) < 0.1}
    return replace(chosen, aside=next(step for step in (16.0, -16.0, 32.0, -32.0, 48.0) if step not in taken))


def _apart(one: _Arrow, other: _Arrow) -> float:
    """Angle between the sides of two arrows, 0 to pi."""
    return abs(math.remainder(one.bearing - other.bearing, 2 * math.pi))


def _gap(one: _Arrow, others: list[_Arrow]) -> float:
    return min((_apart(one, other) for other in others if other.side != one.side or other.name != one.name), default=4)


def _spaced(arrows: list[_Arrow]) -> list[_Arrow]:
    """Arrows that lie close in angle begin further out; where that is too little, every second one further still."""
    placed_: list[_Arrow] = []
    for one in _around(arrows):
        if one.aside:
            placed_.append(one)
            continue
        gap = _gap(one, [other for other in arrows if not other.aside])
        begins = max(_NEAR, _APART / 2 / math.sin(max(gap, 0.02) / 2))
        if begins > _FAR:
            near = placed_ and _apart(placed_[-1], one) < 0.3 and placed_[-1].begins == _NEAR
            begins = _NEAR + _LONG + 12 if near else _NEAR
        placed_.append(replace(one, begins=begins))
    return placed_


def _around(arrows: list[_Arrow]) -> list[_Arrow]:
    """In the order of their bearing, the first after the widest gap, so that close ones follow each other."""
    ordered = sorted(arrows, key=lambda one: one.bearing % (2 * math.pi))
    gaps = [
        (one.bearing - before.bearing) % (2 * math.pi)
        for before, one in zip(ordered[-1:] + ordered, ordered, strict=False)
    ]
    start = max(range(len(ordered)), key=lambda index: gaps[index], default=0)
    return ordered[start:] + ordered[:start]


def _degrees(way: Point) -> float | None:
    angle = math.degrees(math.atan2(abs(way[1]), abs(way[0])))
    return angle if _LEVEL < angle < 90 - _LEVEL else None


def _at(one: _Arrow, centre: Point) -> tuple[_Arrow, tuple[Point, Point]]:
    near, far = one.ends
    return one, ((centre[0] + near[0], centre[1] + near[1]), (centre[0] + far[0], centre[1] + far[1]))


def _drawn(one: _Arrow, centre: Point, near: Point, far: Point) -> str:
    lead = line(centre, near, stroke=palette.INK, stroke_width=0.9) if one.begins > _NEAR + 6 else ""
    if one.kind == "0":
        return lead + member(near, far, 0.0, 1.0)
    tail, tip = (near, far) if one.outward else (far, near)
    if one.kind in ("load", "support"):
        return lead + arrow(tail, tip, opened=one.kind == "support")
    way = one.side if one.outward else (-one.side[0], -one.side[1])
    neck = moved(tip, way, -9)
    if one.kind == "own weight":
        dashes = line(tail, neck, stroke=palette.INK, stroke_width=1.6, stroke_dasharray="4 3")
        return lead + dashes + head(tip, way, 10, fill=palette.INK)
    colour = palette.TENSION if one.kind == "T" else palette.COMPRESSION
    wide = palette.TENSION_WIDTH if one.kind == "T" else palette.COMPRESSION_WIDTH
    return lead + line(tail, neck, stroke=colour, stroke_width=wide) + head(tip, way, 13, fill=colour)


def _arc(one: _Arrow, centre: Point, others: list[_Arrow], space: Space) -> str:
    """The angle from the level as an arc with its number, where nothing lies between; else nothing."""
    if one.degrees is None or one.degrees < 12 or one.aside:
        return ""
    level = 0.0 if one.side[0] > 0 else math.pi
    turn = math.remainder(one.bearing - level, 2 * math.pi)
    bearings = [math.remainder(other.bearing - level, 2 * math.pi) / turn for other in others if other is not one]
    if any(0.02 < part < 0.98 for part in bearings):
        return ""
    for radius in _ARCS:
        steps = [level + turn * i / 12 for i in range(13)]
        arc = [(centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in steps]
        label = Label(angle_said(one.degrees), 10.5)
        foot = (arc[0][0] + 8 * math.cos(level), arc[0][1])
        drawn = [*strip(centre, foot, 2), *(box for a, b in pairwise(arc) for box in strip(a, b, 2))]
        if not space.legible(*drawn):
            continue
        found = placed(label, _outside(centre, radius, level + turn / 2, label), space)
        if found:
            space.take(*drawn)
            base = line(centre, foot, stroke=palette.NOTHING, stroke_width=0.9)
            return base + polyline(arc, stroke=palette.NOTHING, stroke_width=0.9) + found
    return ""


def _outside(centre: Point, radius: float, bearing: float, label: Label) -> Iterator[tuple[Point, Point]]:
    c, s = math.cos(bearing), math.sin(bearing)
    off = radius + 3 + label.width / 2 * abs(c) + label.height / 2 * abs(s)
    for more in (0.0, 4.0, 9.0):
        yield (centre[0] + (off + more) * c, centre[1] + (off + more) * s), (1.0, 0.0)


def _block(one: _Arrow, ends: tuple[Point, Point], angle: bool, space: Space) -> str:
    """Name and size, and the angle where no arc tells it, beyond the arrow or beside it."""
    colour = {"T": palette.TENSION, "C": palette.COMPRESSION, "0": palette.NOTHING}.get(one.kind, palette.INK)
    for size in _SIZES:
        rows = [Label(clean(one.name, _NAME), size, colour, bold=True), Label(one.text, size, colour)]
        if angle and one.degrees is not None:
            rows.append(Label(_("at {angle}", angle=angle_said(one.degrees)), size, colour))
        found = stacked(rows, _places(ends, one.side, rows), space)
        if found:
            return found
    return ""


def _places(ends: tuple[Point, Point], side: Point, rows: list[Label]) -> Iterator[Point]:
    half_x = max(row.width for row in rows) / 2 + 3
    half_y = sum(row.height + 5 for row in rows) / 2
    near, far = ends
    beyond = half_x * abs(side[0]) + half_y * abs(side[1])
    across = half_x * abs(side[1]) + half_y * abs(side[0]) + 7
    normal = (-side[1], side[0])
    for more in (3.0, 10.0, 20.0):
        yield moved(far, side, beyond + more)
    for part in (0.8, 0.6, 1.0, 0.4, 1.2):
        at = (near[0] + part * (far[0] - near[0]), near[1] + part * (far[1] - near[1]))
        for off in (across, -across, across + 8, -across - 8, across + 20, -across - 20):
            yield moved(at, normal, off)
    for turn in range(-5, 6):  # fanned around the far end
        c, s = math.cos(turn / 4), math.sin(turn / 4)
        way = (side[0] * c - side[1] * s, side[0] * s + side[1] * c)
        yield moved(far, way, half_x * abs(way[0]) + half_y * abs(way[1]) + 12)


def _axes(space: Space) -> str:
    """x to the right and y up, in a corner that is free, else under all."""
    top, bottom = space.top, space.bottom
    corners = [
        (16.0, bottom - 8),
        (WIDE - 46, bottom - 8),
        (16.0, top + 40),
        (WIDE - 46, top + 40),
        (16.0, bottom + 46),
    ]
    at = next(c for c in corners if space.free(Box((c[0] + 15, c[1] - 15), 24, 24)) or c is corners[-1])
    space.take(Box((at[0] + 15, at[1] - 15), 22, 22))
    drawn = []
    for way, letter in (((1.0, 0.0), "x"), ((0.0, -1.0), "y")):
        tip = moved(at, way, 24)
        drawn.append(line(at, moved(tip, way, -5), stroke=palette.INK, stroke_width=1))
        drawn.append(head(tip, way, 7, fill=palette.INK))
        drawn.append(Label(letter, 11).drawn(Box(moved(tip, way, 8), 4, 4)))
    return "".join(drawn)


def _said(row: JointRow, arrows: list[tuple[_Arrow, tuple[Point, Point]]]) -> str:
    """What acts on the joint, read out."""
    return _(
        "Joint {joint} cut free. On it act these forces: {forces}. x is to the right, y is up.",
        joint=name(row.name),
        forces=listed([_acts(one) for one, _ends in arrows]),
    )


_ACTS = {
    "0": later("member {name} carries nothing"),
    "T": later("member {name} pulls it {way} with {force}"),
    "C": later("member {name} pushes it {way} with {force}"),
    "load": later("the load acts {way} with {force}"),
    "own weight": later("the own weight acts {way} with {force}"),
    "support": later("the support acts {way} with {force}"),
}


def _acts(one: _Arrow) -> str:
    """What one force does to the joint."""
    way = direction_said((one.side[0], -one.side[1]) if one.outward else (-one.side[0], one.side[1]), exactly=True)
    if one.degrees is not None:
        way = _("{way}, {angle} from the level", way=way, angle=angle_said(one.degrees))
    return _(_ACTS[one.kind], name=one.name, way=way, force=one.text)
