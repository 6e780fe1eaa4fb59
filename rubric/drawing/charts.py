"""Small charts of plain numbers: points over attempts, how a class spreads, bars of a leaderboard."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from rubric.drawing import palette
from rubric.drawing.axis import Axis, axis, level, upright
from rubric.drawing.boxes import Box, Space, strip, text_width
from rubric.drawing.heap import heaped
from rubric.drawing.labels import Label, around, placed
from rubric.drawing.svg import Point, drawing, element, line, words
from rubric.drawing.text import clean
from rubric.language import _, counted
from rubric.messages.outcomes import Figure
from rubric.wording import amount, figure, listed

WIDE = 440.0
_SIDE = 26.0
_HIGH = 110.0
_RADII = (5.0, 3.6, 2.6, 1.8)
_HIGHEST = 90.0
_BAR, _ROW = 13.0, 22.0
_NAME = 24
_SPOKEN = 40
"""Values read out at most."""


def attempts(values: Sequence[float | None], what: str, unit: str = "", most: float | None = None) -> Figure:
    """Draw what each attempt earned, the first on the left; None for one that earned nothing to draw.

    ``what`` names it in a word or two (``points``, ``efficiency``); ``most`` is the most that there is to earn.
    """
    known = [(number, value) for number, value in enumerate(values, 1) if value is not None]
    best = max((value for _, value in known), default=0.0)
    scale = axis([value for _, value in known] + ([most] if most else []), _HIGH, 0.0, 5, from_nought=True)
    left, right = 52.0, WIDE - _SIDE
    step = (right - left) / (max(1, len(values)) + 1)
    at = {number: (left + step * number, scale.place(value)) for number, value in known}
    space = Space(wide=WIDE)
    space.take(*(box for a, b in pairwise(at.values()) for box in strip(a, b, 3)), *(Box(p, 5, 5) for p in at.values()))
    space.take(Box((left - 20, _HIGH / 2), 20, _HIGH / 2 + 6))
    curve = [_leg(at[a], at[b], b - a > 1) for a, b in pairwise(at)]
    dots = [_dot(at[number], value == best, 4.4) for number, value in known]
    numbers = [_beside(at[number], amount(value, unit), value == best, space) for number, value in known]
    below = [
        _tick(left + step * number, _HIGH, str(number))
        for number in range(1, len(values) + 1)
        if _told(number, len(values))
    ]
    base = line((left, _HIGH), (right, _HIGH), stroke=palette.INK, stroke_width=1)
    caption = Label(_("attempt"))
    name = words(what + (f", {unit}" if unit else ""), (8, -26), text_anchor="start")
    top = min(space.top, -32.0)
    parts = [upright(scale, left, right), base, *curve, *dots, *numbers, *below, name]
    parts.append(caption.drawn(caption.box(((left + right) / 2, _HIGH + 32))))
    shifted = element("g", *parts, transform=f"translate(0 {8 - top:.1f})")
    said = _attempts_said(values, what, unit, most)
    return drawing([shifted], _HIGH + 50 - top, _("{what} of each attempt", what=what), said, WIDE)


def _leg(a: Point, b: Point, gap: bool) -> str:
    """From one attempt to the next, dashed over those that earned nothing to draw."""
    dashes = palette.DASHES if gap else None
    return line(a, b, stroke=palette.MOVEMENT, stroke_width=1.8, stroke_dasharray=dashes)


def _told(number: int, count: int) -> bool:
    return count <= 20 or number % 5 == 0 or number == 1


def _tick(x: float, y: float, text: str) -> str:
    label = Label(text, 10.5)
    return line((x, y), (x, y + 5), stroke=palette.INK, stroke_width=1) + label.drawn(label.box((x, y + 14)))


def _beside(at: Point, text: str, bold: bool, space: Space) -> str:
    label = Label(text, 10.5, bold=bold)
    return placed(label, around(at, label, 6, (0.0, -1.0)), space)


def _dot(at: Point, full: bool, radius: float) -> str:
    fill = palette.MOVEMENT if full else palette.PAPER
    return element("circle", cx=at[0], cy=at[1], r=radius, fill=fill, stroke=palette.MOVEMENT, stroke_width=1.4)


def _attempts_said(values: Sequence[float | None], what: str, unit: str, most: float | None) -> str:
    if not values:
        return _("{what}: no attempt yet.", what=what)
    each = [
        _("attempt {number}: {value}", number=number, value=_value(value, unit))
        for number, value in enumerate(values, 1)
    ]
    told = ", ".join(each[-_SPOKEN:])
    begin = counted("{what} of {count} attempt", "{what} of {count} attempts", len(each), what=what)
    begin = _("{what}, out of {most}", what=begin, most=amount(most, unit)) if most else begin
    last = _("The last are {attempts}.", attempts=told) if len(each) > _SPOKEN else f"{told}."
    return f"{begin}. {last} " + _("The best is drawn full.")


def _value(value: float | None, unit: str) -> str:
    return _("none yet") if value is None else amount(value, unit)


def spread(
    values: Sequence[float], what: str, own: float | None = None, most: float | None = None, wide: float = WIDE
) -> Figure:
    """Draw how the values of a class spread: one dot for each, a stroke at the middle one, ``own`` full with its name.

    ``what`` says what is counted, with its unit (``points``, ``failure load, N``).
    """
    scale = axis([*values, *([own] if own is not None else []), *([0.0, most] if most else [])], _SIDE, wide - _SIDE)
    ordered = sorted(values)
    at, radius = heaped([scale.place(value) for value in ordered], _RADII, _HIGHEST)
    mine = ordered.index(own) if own in ordered else None
    space = Space(wide=wide)
    space.take(*(Box(p, radius, radius) for p in at))
    dots = [_dot(p, index == mine, radius - 0.6) for index, p in enumerate(at)]
    marks = _middle(ordered, scale, space)
    if mine is not None:
        label = Label(_("you"), 11, bold=True)
        marks += placed(label, around(at[mine], label, radius + 2, (0.0, -1.0)), space)
    top = min(space.top, -14.0)
    shifted = element("g", *dots, marks, level(scale, 8, what), transform=f"translate(0 {8 - top:.1f})")
    return drawing(
        [shifted], 58 - top, _("How the class spreads: {what}", what=what), _spread_said(ordered, what, own), wide
    )


def _middle(ordered: Sequence[float], scale: Axis, space: Space) -> str:
    if len(ordered) < 3:
        return ""
    x, text = scale.place(median(ordered)), _("middle {value}", value=figure(median(ordered)))
    label, top = Label(text, 11), space.top - 4
    half = label.width / 2 + 3
    at = min(max(x, half), space.wide - half), top - 8
    drawn = placed(label, [(at, (1.0, 0.0))], space)
    return drawn + line((x, top), (x, 8), stroke=palette.INK, stroke_width=1.2, stroke_dasharray=palette.DASHES)


def _spread_said(ordered: Sequence[float], what: str, own: float | None) -> str:
    if not ordered:
        return _("{what}: nobody has any yet.", what=what)
    low, middle, high = (figure(value) for value in (ordered[0], median(ordered), ordered[-1]))
    said = [
        counted(
            "{what}, {count} dot: from {low} to {high}, the middle {middle}.",
            "{what}, {count} dots: from {low} to {high}, the middle {middle}.",
            len(ordered),
            what=what,
            low=low,
            high=high,
            middle=middle,
        )
    ]
    if len(ordered) <= _SPOKEN:
        said.append(_("All of them: {values}.", values=listed([figure(value) for value in ordered])))
    if own is not None:
        said.append(_("You have {value}.", value=figure(own)))
    return " ".join(said)


def bars(rows: Sequence[tuple[str, float]], what: str, own: int | None = None, wide: float = palette.WIDTH) -> Figure:
    """Draw one bar for each name, in the order given; that of row ``own`` is full and bold, the others outlined.

    ``what`` says what is shown, with its unit where it has one (``efficiency``, ``failure load, N``).
    """
    names = [clean(name, _NAME) for name, _ in rows]
    left = 14 + max((text_width(name, palette.TEXT) * 1.08 for name in names), default=0.0)
    room = max((text_width(figure(value), palette.TEXT) for _, value in rows), default=0.0) * 1.08 + 12
    scale = axis([value for _, value in rows], left, wide - room, from_nought=True)
    drawn = []
    for index, (name, (__, value)) in enumerate(zip(names, rows, strict=True)):
        y, mine = 30 + index * _ROW, index == own
        weight = "bold" if mine else None
        end = left + (scale.end - left) * value / max(scale.high, 1e-12)
        drawn.append(words(name, (8, y), text_anchor="start", font_weight=weight))
        drawn.append(_bar(left, max(end, left + 1), y, mine))
        drawn.append(words(figure(value), (max(end, left) + 6, y), text_anchor="start", font_weight=weight))
    high = 30 + len(rows) * _ROW
    drawn.append(line((left, 18), (left, high - 8), stroke=palette.INK, stroke_width=1.2))
    drawn.append(words(what, (left, 10), text_anchor="start", font_size=11))
    shifted = element("g", *drawn, transform="translate(0 4)")
    return drawing([shifted], high + 4, what, _bars_said(names, rows, what, own), wide)


def _bar(left: float, right: float, y: float, full: bool) -> str:
    return element(
        "rect",
        x=left,
        y=y - _BAR / 2,
        width=right - left,
        height=_BAR,
        fill=palette.MOVEMENT if full else palette.SHADE,
        stroke=palette.MOVEMENT,
        stroke_width=1.2,
    )


def _bars_said(names: Sequence[str], rows: Sequence[tuple[str, float]], what: str, own: int | None) -> str:
    each = [f"{name} {figure(value)}" for name, (_, value) in zip(names, rows, strict=True)]
    told = ", ".join(each[:_SPOKEN])
    if len(each) > _SPOKEN:
        told = _("{names} and {count} more", names=told, count=len(each) - _SPOKEN)
    said = _("{what}, a bar each: {bars}.", what=what, bars=told)
    return said if own is None else f"{said} " + _("Yours is {name}.", name=names[own])
