"""A truss as it was understood, before anything is solved: no forces."""

from __future__ import annotations

from functools import partial

from rubric.brief import TRAVELLING, Brief
from rubric.drawing import palette
from rubric.drawing.boxes import Space
from rubric.drawing.svg import drawing, element, line, lines
from rubric.language import _, counted
from rubric.messages.outcomes import Analysis, Figure
from rubric.wording import amount
from worker.feedback.figures.captions import named
from worker.feedback.figures.envelope import room
from worker.feedback.figures.frame import fitted
from worker.feedback.figures.legend import Legend, dashed
from worker.feedback.figures.parts import arrow
from worker.feedback.figures.scene import Scene
from worker.feedback.figures.spoken import truss_said

WIDE = 480.0
"""Narrower than the drawings of a result: it stands beside the text that it was made from."""
_MARGIN = 46.0
_TALLEST = 250.0
_OPEN = 0.3
"""As on the drawing of the brief: room without a limit, over the span."""
_WIDTHS = {1: 1.8, 2: 3.6, 3: 5.2}


def sketched(truss: Analysis, brief: Brief) -> Figure:
    """Draw joints, members, supports and loads within the brief's room; joints that move are filled.

    ``truss`` carries no forces: of an Analysis only its geometry, supports, loads and ``moving`` are looked at.
    """
    above, below, span = brief.limits.depth_above_mm, brief.limits.depth_below_mm, brief.span_mm
    heights = [j.y_mm for j in truss.joints] or [0.0]
    high = max(_OPEN * span, *heights) if above is None else above
    low = min(-_OPEN * span, *heights) if below is None else -below
    places = [(j.x_mm, j.y_mm) for j in truss.joints]
    frame = fitted([*places, (0.0, high), (0.0, low), (0.0, 0.0), (span, 0.0)], _MARGIN, WIDE, _TALLEST)
    scene = Scene.on(truss, frame, Space(wide=WIDE))
    edges = room(frame, span, high, low, (above is None, below is None), scene.space)
    bars = [
        lines(
            (scene.ends(m) for m in scene.members if m.count == count),
            stroke=palette.INK,
            stroke_width=max(0.8, _WIDTHS.get(count, 1.8) * scene.thin),
        )
        for count in sorted({m.count for m in scene.members})
    ]
    standing, loads, moving = scene.supports(), scene.loads(), frozenset(truss.moving)
    names = named(scene)
    parts = [*edges, *standing, *bars, *loads, *scene.joints(moving), *names.drawn]
    legend = Legend(scene.space.bottom - scene.space.top + 18, WIDE)
    _explain(legend, truss, brief, bool(moving))
    names.count(legend)
    legend.say(frame.note)
    shifted = element("g", *parts, transform=f"translate(0 {8 - scene.space.top:.1f})")
    return drawing([shifted, *legend.parts], legend.bottom + 10, _("What was understood"), _said(truss), WIDE)


def _explain(legend: Legend, truss: Analysis, brief: Brief, moves: bool) -> None:
    legend.sample(dashed, _("room for the truss"))
    for count in sorted({m.count for m in truss.members} - {1}):
        width = _WIDTHS.get(count, 1.8)
        legend.sample(partial(line, stroke=palette.INK, stroke_width=width), _("{count} sticks", count=count))
    if any(j.load_N != (0.0, 0.0) for j in truss.joints):
        legend.sample(lambda a, b: arrow(a, b), _("load on this side"), 28)
    if moves:
        legend.say(_("Joints that move are filled."))
    if brief.load.places == TRAVELLING:
        load = amount(brief.load.target_N, "N")
        legend.say(_("The load of {load} moves; it is drawn in one of its places.", load=load))


def _said(truss: Analysis) -> str:
    said = truss_said(truss)
    moving = _("These joints move: {joints}.", joints=", ".join(truss.moving)) if truss.moving else ""
    rows = ", ".join(m.name for m in truss.members[:40])
    more = len(truss.members) - 40
    if more > 0:
        members = counted(
            "Members: {members} and {count} more member.",
            "Members: {members} and {count} more members.",
            more,
            members=rows,
        )
    else:
        members = _("Members: {members}.", members=rows) if rows else ""
    return " ".join(filter(None, (said, members, moving)))
