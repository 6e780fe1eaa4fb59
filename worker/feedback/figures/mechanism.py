"""A truss that is not stable: how it moves."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from rubric.brief import Brief
from rubric.drawing import palette
from rubric.drawing.boxes import strip
from rubric.drawing.svg import Point, drawing, element, line, lines
from rubric.language import _
from rubric.messages.outcomes import Analysis, Figure, NextStep
from rubric.wording import figure
from worker.feedback.figures.captions import loads_said, named
from worker.feedback.figures.leaning import leaning
from worker.feedback.figures.legend import Legend, all_dashed, dashed
from worker.feedback.figures.parts import arrow, head, unit
from worker.feedback.figures.scene import Scene
from worker.feedback.figures.spoken import mechanism_said
from worker.feedback.figures.swing import swing

_FURTHEST = 46.0
"""How far the joint that moves most is drawn from its place."""
_LEAST = 5.0
"""A shorter movement gets no arrow."""
_ADDED = "11 6"
_HATCH = 7.0


def mechanism(analysis: Analysis, brief: Brief | None = None, steps: Sequence[NextStep] = ()) -> Figure:
    """Draw a mechanism: the truss, the same truss moved half-way and all the way, and an arrow where a joint moves.

    The truss moves the way its load would push it.  The shapes that lean are hatched, and a member that one of
    ``steps`` would add is dashed.  The movement is enlarged until it can be seen; what counts is which joints
    move, and which way.
    """
    scene = Scene.of(analysis)
    ghosts, true = _ghosts(scene)
    new = ghosts[-1]
    moving = frozenset(name for name, at in new.items() if math.dist(at, scene.points[name]) > _LEAST)
    moved = [m for m in scene.members if moving & {m.start, m.end}]
    shadow = [_ghost(((at[m.start], at[m.end]) for m in moved), i) for i, at in enumerate(ghosts)]
    rings = leaning(analysis)
    region = [_hatched([scene.points[name] for name in ring], scene) for ring in rings]
    bars = lines(map(scene.ends, scene.members), stroke=palette.INK, stroke_width=max(0.8, 2.6 * scene.thin))
    added = [step.bar for step in steps if step.bar and set(step.bar) <= set(scene.points)]
    more = [_added(scene.points[a], scene.points[b]) for a, b in added]
    for at in ghosts:
        for m in moved:
            scene.space.take(*strip(at[m.start], at[m.end], 3))
    for a, b in added:
        scene.space.take(*strip(scene.points[a], scene.points[b], 4))
    arrows = [_way(scene, name, new[name]) for name in scene.points if name in moving]
    standing, loads, names = scene.supports(), scene.loads(), named(scene)
    parts = [*region, *shadow, *standing, bars, *more, *loads, *scene.joints(moving), *arrows, *names.drawn]
    legend = _legend(scene, brief, bool(rings), bool(added), true)
    legend.say(loads_said(scene, loads))
    names.count(legend)
    shifted = element("g", *parts, transform=f"translate(0 {8 - scene.space.top:.1f})")
    said = mechanism_said(analysis, rings, added)
    return drawing([shifted, *legend.parts], legend.bottom, _("How the truss can move"), said)


def _legend(scene: Scene, brief: Brief | None, region: bool, added: bool, true: bool) -> Legend:
    analysis = scene.analysis
    legend = Legend(scene.space.bottom - scene.space.top + 18)
    legend.sample(lambda a, b: line(a, b, stroke=palette.INK, stroke_width=2.6), _("your truss"))
    legend.sample(dashed, _("where it can go"))
    if region:
        legend.sample(_hatch_sample, _("no triangle: it leans"), 26)
    if added:
        alone = analysis.mechanisms == 1
        legend.sample(_added, _("a member that would stop it") if alone else _("a member that would stop one way"))
    legend.sample(_mark, _("a joint that moves"), 32)
    legend.sample(lambda a, b: arrow(a, b), _("load"), 28)
    length = _("No member changes its length.") if true else _("At first no member changes its length.")
    enlarged = _("The movement is drawn much larger than it starts.")
    legend.say(f"{enlarged} {length}")
    if analysis.mechanisms > 1:
        legend.say(_("It can move in {count} ways. This is the first.", count=analysis.mechanisms))
    if brief is not None:
        load = figure(brief.load.target_N)
        legend.say(_("Only when this movement is stopped can the bridge carry its target load of {load} N.", load=load))
    legend.say(scene.frame.note)
    return legend


def _ghosts(scene: Scene) -> tuple[list[dict[str, Point]], bool]:
    """The joints on the page half-way and at the end, and whether members keep their length on the way."""

    def placed(places: dict[str, tuple[float, float]]) -> dict[str, Point]:
        return {name: scene.frame.place(at) for name, at in places.items()}

    def furthest(places: dict[str, tuple[float, float]]) -> float:
        return max((math.dist(at, scene.points[name]) for name, at in placed(places).items()), default=0.0)

    steps, true = swing(scene.analysis, _FURTHEST, furthest)
    return [placed(step) for step in steps], true


def _ghost(ends: Iterable[tuple[Point, Point]], step: int) -> str:
    """The first position has finer dashes than the last."""
    return all_dashed(ends) if step else lines(ends, stroke=palette.FAINT, stroke_width=0.9, stroke_dasharray="2 4")


def _added(a: Point, b: Point) -> str:
    """A member that is not there yet."""
    return line(a, b, stroke=palette.INK, stroke_width=2.2, stroke_dasharray=_ADDED)


def _hatched(corners: list[Point], scene: Scene | None = None) -> str:
    """Fine lines at 45 degrees inside a polygon."""
    sides = list(zip(corners, corners[1:] + corners[:1], strict=True))
    offs = [x + y for x, y in corners]
    drawn: list[tuple[Point, Point]] = []
    off = math.ceil(min(offs) / _HATCH) * _HATCH
    while off < max(offs):
        cuts = sorted(cut for a, b in sides for cut in _cut(a, b, off))
        drawn += zip(cuts[::2], cuts[1::2], strict=False)
        off += _HATCH
    if scene is not None:
        for start, end in drawn:
            scene.space.take(*strip(start, end, 1))
    return lines(drawn, stroke=palette.FAINT, stroke_width=0.8)


def _cut(a: Point, b: Point, off: float) -> list[Point]:
    """Where a side meets the line x + y = off."""
    one, other = a[0] + a[1] - off, b[0] + b[1] - off
    if (one < 0) == (other < 0):
        return []
    part = one / (one - other)
    return [(a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1]))]


def _hatch_sample(a: Point, b: Point) -> str:
    return _hatched([(a[0], a[1] - 6), (b[0], b[1] - 6), (b[0], b[1] + 6), (a[0], a[1] + 6)])


def _way(scene: Scene, name: str, to: Point) -> str:
    start = scene.points[name]
    scene.space.take(*strip(start, to, 8))
    return _mark(start, to)


def _mark(start: Point, to: Point) -> str:
    """An arrow in the colour of movement, with a broad head so that it is no load."""
    direction = unit(start, to)
    size = min(11.0, math.dist(start, to) / 2)
    neck = (to[0] - direction[0] * size * 0.9, to[1] - direction[1] * size * 0.9)
    colour = palette.MOVEMENT
    return line(start, neck, stroke=colour, stroke_width=2.6) + head(to, direction, size, fill=colour)
