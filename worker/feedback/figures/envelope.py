"""What a brief allows: span, supports, load and the room above and below the deck."""

from __future__ import annotations

from rubric.brief import ALONG, TRAVELLING, Brief
from rubric.drawing import palette
from rubric.drawing.boxes import Space, strip
from rubric.drawing.labels import Label, around, placed
from rubric.drawing.svg import drawing, element, line, lines, polygon
from rubric.language import _
from rubric.messages.outcomes import Figure
from rubric.wording import amount
from worker.feedback.figures.frame import Frame, fitted
from worker.feedback.figures.legend import Legend, all_dashed, dashed
from worker.feedback.figures.parts import (
    ARROW,
    SUPPORT_DEPTH,
    arrow,
    ground_side,
    half_rule,
    joints,
    rule,
    support,
)
from worker.feedback.figures.spoken import envelope_said
from worker.feedback.text import clean

_OPEN = 0.3
"""Where no limit is set, the room is drawn this part of the span high, without an edge."""
_MARGIN = 84.0
"""Room for the depths on the right, and as much on the left."""
_SPREAD = 9
"""Arrows for a load along the deck."""


def envelope(brief: Brief) -> Figure:
    """Draw what a brief allows; lengths in mm, the load in N.

    The room for the truss is a light dashed outline, open where the brief sets no limit.
    """
    above, below = brief.limits.depth_above_mm, brief.limits.depth_below_mm
    high = _OPEN * brief.span_mm if above is None else above
    low = -_OPEN * brief.span_mm if below is None else -below
    frame = fitted([(0, high), (0, low), (0, 0), (brief.span_mm, 0)], margin=_MARGIN)
    space = Space()
    given = _given(brief, frame, space)
    loads = _loads(brief, frame, space)
    parts = [
        *room(frame, brief.span_mm, high, low, (above is None, below is None), space),
        *_supports(brief, frame, space),
        line(frame.place((0, 0)), frame.place((brief.span_mm, 0)), stroke=palette.INK, stroke_width=3.2),
        *loads,
        *given,
        *_names(brief, frame, space),
        *_dimensions(brief, frame, space),
    ]
    legend = Legend(space.bottom - space.top + 18)
    legend.sample(lambda a, b: line(a, b, stroke=palette.INK, stroke_width=3.2), _("deck"))
    legend.sample(dashed, _("room for the truss"))
    legend.sample(lambda a, b: arrow(a, b), _("load on the whole bridge, N"), 32)
    legend.say(_("Lengths in mm.") + (f" {frame.note}" if frame.note else ""))
    moved = element("g", *parts, transform=f"translate(0 {8 - space.top:.1f})")
    return drawing([moved, *legend.parts], legend.bottom, _("What the brief allows"), envelope_said(brief))


def room(frame: Frame, span: float, high: float, low: float, opened: tuple[bool, bool], space: Space) -> list[str]:
    """The room for the truss, lengths in mm; ``opened``: without an edge above, below."""
    a, b, c, d = (frame.place(p) for p in ((0, high), (span, high), (span, low), (0, low)))
    edges = [(a, d), (b, c)] + ([] if opened[0] else [(a, b)]) + ([] if opened[1] else [(d, c)])
    for edge in edges:
        space.take(*strip(*edge, 2))
    return [polygon([a, b, c, d], fill=palette.SHADE), all_dashed(edges)]


def _given(brief: Brief, frame: Frame, space: Space) -> list[str]:
    """The truss that the brief gives, where it gives one."""
    if brief.problem is None:
        return []
    at = {name: frame.place(place) for name, place in brief.problem.joints.items()}
    ends = [(at[name.split("-")[0]], at[name.split("-")[1]]) for name in brief.problem.members]
    for a, b in ends:
        space.take(*strip(a, b, 3))
    return [lines(ends, stroke=palette.INK, stroke_width=1.6), joints(at.values(), 3.0)]


def _names(brief: Brief, frame: Frame, space: Space) -> list[str]:
    """The names of its joints, once all else has its room."""
    joints = brief.problem.joints if brief.problem else {}
    labels = ((Label(clean(name, 9), bold=True), frame.place(place)) for name, place in joints.items())
    return [placed(label, around(place, label, 9, (0.3, -1.0)), space) for label, place in labels]


def _supports(brief: Brief, frame: Frame, space: Space) -> list[str]:
    middle = frame.place((brief.span_mm / 2, 0))
    ends = ((brief.supports.left, 0.0), (brief.supports.right, brief.span_mm))
    places = [(said, frame.place((x, 0))) for said, x in ends]
    return [support(said, at, ground_side(said, at, middle), space) for said, at in places]


def _loads(brief: Brief, frame: Frame, space: Space) -> list[str]:
    """Arrows down onto the deck, and over them how much it is in all."""
    span, places = brief.span_mm, brief.load.places
    spread = places in (ALONG, TRAVELLING)
    if isinstance(places, str):
        places = tuple(span * (i + 0.5) / _SPREAD for i in range(_SPREAD)) if spread else (span / 2,)
    drawn = []
    for x in places:
        tip = frame.place((x, 0))
        tail = (tip[0], tip[1] - ARROW - 4)
        space.take(*strip(tail, tip, 9))
        drawn.append(arrow(tail, (tip[0], tip[1] - 2)))
    ends = [frame.place((x, 0)) for x in (min(places), max(places))]
    y = ends[0][1] - ARROW - 4
    if brief.load.places == ALONG:
        drawn.append(line((ends[0][0] - 12, y), (ends[1][0] + 12, y), stroke=palette.INK, stroke_width=1.6))
    total = amount(brief.load.target_N, "N")
    words = {
        ALONG: _("{load} along the deck", load=total),
        TRAVELLING: _("{load} on each deck joint in turn", load=total),
    }
    alone = total if len(places) == 1 else _("{load} in all", load=total)
    label = Label(words.get(str(brief.load.places), alone), bold=True)
    centre = (ends[0][0] + ends[1][0]) / 2
    over = [((centre, y - 11 - step), (1.0, 0.0)) for step in range(0, 60, 6)]
    return [*drawn, placed(label, over, space)]


def _dimensions(brief: Brief, frame: Frame, space: Space) -> list[str]:
    """Span and places of the load below, depths on the right."""
    span, limits, places = brief.span_mm, brief.limits, brief.load.places
    down = max(frame.place((0, 0))[1] + SUPPORT_DEPTH, space.bottom) + 14
    rows: list[float] = [span / 2] if places == "midspan" else []
    rows += list(places[:4]) if isinstance(places, tuple) else []
    drawn = []
    for x in sorted(x for x in rows if 0 < x < span):
        drawn.append(_level(frame.place((0, 0))[0], frame.place((x, 0))[0], down, amount(x, "mm"), space))
        down += 20
    said = _("span {length}", length=amount(span, "mm"))
    drawn.append(_level(frame.place((0, 0))[0], frame.place((span, 0))[0], down, said, space))
    right = frame.place((span, 0))[0] + 24
    for depth in (limits.depth_above_mm, -(limits.depth_below_mm or 0.0)):
        if depth:
            drawn.append(_upright(right, frame.place((0, 0))[1], frame.place((0, depth))[1], depth, space))
    return drawn


def _level(left: float, right: float, y: float, text: str, space: Space) -> str:
    label = Label(text)
    middle = (left + right) / 2
    half = label.width / 2 + 4
    if right - left < 2 * half + 16:
        return rule((left, y), (right, y)) + placed(label, [((right + half, y), (1.0, 0.0))], space)
    box = label.box((middle, y))
    space.take(box, *strip((left, y), (right, y), 4))
    return half_rule((middle - half, y), (left, y)) + half_rule((middle + half, y), (right, y)) + label.drawn(box)


def _upright(x: float, a: float, b: float, depth: float, space: Space) -> str:
    space.take(*strip((x, a), (x, b), 4))
    label = Label(amount(abs(depth), "mm"), 11)
    near = [((x + label.width / 2 + 4.5, (a + b) / 2 + step), (1.0, 0.0)) for step in (0, -8, 8, -16, 16)]
    return rule((x, a), (x, b)) + placed(label, near, space)
