"""At what load bridges built like this one break: twenty of them as dots, with the target marked."""

from __future__ import annotations

from rubric.brief import Brief
from rubric.drawing import palette
from rubric.drawing.axis import Axis, axis, level
from rubric.drawing.boxes import Box, Space, strip
from rubric.drawing.heap import heaped
from rubric.drawing.labels import Label, placed
from rubric.drawing.svg import drawing, element, line
from rubric.language import _
from rubric.messages.outcomes import Figure, Outlook
from rubric.wording import amount
from worker.feedback.figures.legend import Legend
from worker.feedback.figures.parts import arrow

WIDE = 440.0
"""About 105 mm as printed."""
_SIDE = 26.0
_RADII = (5.0, 3.6, 2.6)
_HIGHEST = 84.0
"""Dots heaped higher than this are drawn smaller."""
_LEAST_SPREAD = 60.0
"""The dots are spread over this much of the axis at least."""
_UNDER_AXIS = 40.0


def scatter(outlook: Outlook | None, brief: Brief) -> Figure | None:
    """Draw the predicted failure load of the whole bridge as chance has it, N; None where it is not known.

    Below the dots a bar runs from the load at or below which 10 of 100 bridges break to that of 90, with a stroke
    at that of 50.  Full dots carry the target.
    """
    if outlook is None or outlook.low_N is None or outlook.median_N is None or outlook.high_N is None:
        return None
    three, target_N = (outlook.low_N, outlook.median_N, outlook.high_N), brief.load.target_N
    scale = _scale([*outlook.twenty_N, *three], target_N)
    space = Space(wide=WIDE)
    dots = _dots(outlook.twenty_N, scale, target_N, space)
    bar = _bar(three, scale, space)
    space.take(Box((WIDE / 2, _UNDER_AXIS / 2 + 26), WIDE / 2 - 4, _UNDER_AXIS / 2))
    mark = _target(target_N, scale, space)
    below = level(scale, 26, _("load at which the bridge breaks, N"))
    legend = Legend(space.bottom - space.top + 12, WIDE)
    legend.sample(lambda a, _b: _dot(a[0] + 6, a[1], True, 5), _("carries the target"), 12)
    legend.sample(lambda a, _b: _dot(a[0] + 6, a[1], False, 5), _("breaks before it"), 12)
    for sentence in (_dots_said(outlook), _("The bar: {said}", said=_bar_said(three))):
        legend.say(sentence)
    shifted = element("g", mark, *dots, bar, below, transform=f"translate(0 {8 - space.top:.1f})")
    title = _("At what load bridges like this break")
    return drawing([shifted, *legend.parts], legend.bottom, title, _said(outlook, three, target_N), WIDE)


def _scale(loads_N: list[float], target_N: float) -> Axis:
    """An axis with the target on it, unless the loads would then shrink to a heap: it is told at the edge instead."""
    both = axis([*loads_N, target_N], _SIDE, WIDE - _SIDE)
    wide = both.place(max(loads_N)) - both.place(min(loads_N))
    return both if wide > _LEAST_SPREAD else axis(loads_N, _SIDE, WIDE - _SIDE)


def _dots(loads_N: tuple[float, ...], scale: Axis, target_N: float, space: Space) -> list[str]:
    """Each dot on the line, or on the dots that it would touch; smaller where the heap would grow too high."""
    heap, radius = heaped([scale.place(load_N) for load_N in loads_N], _RADII, _HIGHEST)
    space.take(*(Box(at, radius, radius) for at in heap), Box((WIDE / 2, 0), WIDE / 2 - 4, 2))
    return [_dot(x, y, load_N >= target_N, radius) for (x, y), load_N in zip(heap, loads_N, strict=True)]


def _dot(x: float, y: float, carries: bool, radius: float) -> str:
    fill = palette.MOVEMENT if carries else palette.PAPER
    return element("circle", cx=x, cy=y, r=radius - 0.6, fill=fill, stroke=palette.MOVEMENT, stroke_width=1.4)


def _bar(three: tuple[float, float, float], scale: Axis, space: Space) -> str:
    low, median, high = (scale.place(load_N) for load_N in three)
    space.take(*strip((low, 10), (high, 10), 12))
    marks = [line((x, 4), (x, 16), stroke=palette.INK, stroke_width=wide) for x, wide in ((low, 1.4), (high, 1.4))]
    bar = line((low, 10), (high, 10), stroke=palette.INK, stroke_width=3)
    return bar + "".join(marks) + line((median, 2), (median, 18), stroke=palette.INK, stroke_width=3)


def _target(target_N: float, scale: Axis, space: Space) -> str:
    x = min(max(scale.place(target_N), 8.0), WIDE - 8)
    label = Label(_("target {load}", load=amount(target_N, "N")), bold=True)
    half = label.width / 2 + 4
    top = min(space.top - 14, -30.0)
    if not scale.low <= target_N <= scale.high:  # off the axis: an arrow that way
        way = 1.0 if target_N > scale.high else -1.0
        tip = (x, top)
        said = placed(label, [((x - way * (half + 32), top), (1.0, 0.0))], space)
        space.take(Box((x - way * 14, top), 14, 6))
        return said + arrow((x - way * 28, top), tip)
    centre = min(max(x, half + 2), WIDE - half - 2)
    said = placed(label, [((centre, top), (1.0, 0.0))], space)
    return said + line((x, top + 9), (x, 26), stroke=palette.INK, stroke_width=1.2, stroke_dasharray=palette.DASHES)


def _dots_said(outlook: Outlook) -> str:
    return _("Each dot is one of twenty bridges built like yours.") if outlook.twenty_N else ""


def _bar_said(three: tuple[float, float, float]) -> str:
    low, median, high = (amount(load_N, "N") for load_N in three)
    return _(
        "of 100 such bridges 10 break at {low} or less, 50 at {median} or less, 90 at {high} or less.",
        low=low,
        median=median,
        high=high,
    )


def _said(outlook: Outlook, three: tuple[float, float, float], target_N: float) -> str:
    said, target = (
        _("Bridges built alike break at different loads: {said}", said=_bar_said(three)),
        amount(target_N, "N"),
    )
    if outlook.twenty_N:
        twenty = _(
            "Of twenty such bridges the weakest breaks at {low}, the strongest at {high}; "
            "{count} of them carry the target of {load}.",
            low=amount(outlook.twenty_N[0], "N"),
            high=amount(outlook.twenty_N[-1], "N"),
            count=sum(load_N >= target_N for load_N in outlook.twenty_N),
            load=target,
        )
        return f"{said} {twenty}"
    if outlook.chance is not None:
        carry = _("{part} of them carry the target of {load}.", part=amount(outlook.chance, "%"), load=target)
        return f"{said} {carry}"
    return said
