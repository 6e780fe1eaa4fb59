"""A truss that is not stable: how it moves."""

from __future__ import annotations

import math

from rubric.brief import Brief
from rubric.drawing import palette
from rubric.drawing.boxes import strip
from rubric.drawing.svg import Point, drawing, element, line
from rubric.messages.outcomes import Analysis, Figure
from rubric.wording import figure
from worker.feedback.figures.legend import Legend, dashed
from worker.feedback.figures.parts import arrow, head, unit
from worker.feedback.figures.scene import Scene
from worker.feedback.figures.spoken import mechanism_said, with_the_load

_FURTHEST = 46.0
"""How far the joint that moves most is drawn from its place."""
_LEAST = 5.0
"""A shorter movement gets no arrow."""


def mechanism(analysis: Analysis, brief: Brief | None = None) -> Figure:
    """Draw a mechanism: the truss, the same truss moved (dashed), and an arrow where a joint moves.

    The truss moves the way its load would push it.  The movement is enlarged until it can be seen;
    what counts is which joints move, and which way.
    """
    scene = Scene.of(analysis)
    new = _moved(scene)
    moving = frozenset(name for name, at in new.items() if math.dist(at, scene.points[name]) > _LEAST)
    shadow = [dashed(new[m.start], new[m.end]) for m in scene.members if moving & {m.start, m.end}]
    bars = [line(*scene.ends(m), stroke=palette.INK, stroke_width=max(0.8, 2.6 * scene.thin)) for m in scene.members]
    for m in scene.members:
        if moving & {m.start, m.end}:
            scene.space.take(*strip(new[m.start], new[m.end], 3))
    arrows = [_way(scene, name, new[name]) for name in scene.points if name in moving]
    parts = [*shadow, *scene.supports(), *bars, *scene.loads(), *scene.joints(moving), *arrows, *scene.names()]
    legend = Legend(scene.space.bottom - scene.space.top + 18)
    legend.sample(lambda a, b: line(a, b, stroke=palette.INK, stroke_width=2.6), "your truss")
    legend.sample(dashed, "where it can go")
    legend.sample(lambda a, b: _mark(a, b), "a joint that moves", 32)
    legend.sample(lambda a, b: arrow(a, b), "load", 32)
    legend.say("The movement is drawn much larger than it starts. No member changes its length.")
    if analysis.mechanisms > 1:
        legend.say(f"It can move in {analysis.mechanisms} ways. This is the first.")
    if brief is not None:
        load = figure(brief.load.target_N)
        legend.say(f"Only when this movement is stopped can the bridge carry its target load of {load} N.")
    legend.say(scene.frame.note)
    moved = element("g", *parts, transform=f"translate(0 {8 - scene.space.top:.1f})")
    return drawing([moved, *legend.parts], legend.bottom, "How the truss can move", mechanism_said(analysis))


def _moved(scene: Scene) -> dict[str, Point]:
    """The joints on the page after the movement."""
    steps = {
        j.name: ((j.motion or (0.0, 0.0))[0] * scene.frame.x, -(j.motion or (0.0, 0.0))[1] * scene.frame.y)
        for j in scene.analysis.joints
    }
    largest = max((math.hypot(*step) for step in steps.values()), default=0.0)
    factor = with_the_load(scene.analysis) * _FURTHEST / largest if largest > 0 else 0.0
    return {
        name: (at[0] + factor * steps[name][0], at[1] + factor * steps[name][1]) for name, at in scene.points.items()
    }


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
