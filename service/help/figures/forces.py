"""Pull and push, long and short sticks, and how full a stick is."""

from __future__ import annotations

import math

from rubric.drawing import palette
from rubric.drawing.svg import Point, polyline
from rubric.language import _
from rubric.messages.outcomes import Figure
from rubric.wording import figure
from service.help.figures import kit


def pull_and_push() -> Figure:
    """A stick of each kind, as every drawing has them."""
    rows = (
        (kit.tie, _("T, plus: tension"), _("pulled: it wants to get longer"), palette.TENSION),
        (kit.strut, _("C, minus: compression"), _("pushed: it wants to get shorter"), palette.COMPRESSION),
        (kit.idle, _("0: no force"), _("carries nothing just now"), palette.NOTHING),
    )
    parts = []
    for place, (drawn, name, means, colour) in enumerate(rows):
        y = 30.0 + 58 * place
        ends: tuple[Point, Point] = ((20, y), (150, y))
        parts += [drawn(*ends), kit.joints(ends)]
        parts.append(kit.say(name, (172, y - 9), "start", bold=True, colour=colour))
        parts.append(kit.say(means, (172, y + 9), "start"))
    told = _(
        "A pulled stick is a thin green line whose arrowheads leave its joints. A pushed stick is a thick purple line "
        "whose arrowheads enter its joints. A stick without force is a dotted grey line."
    )
    return kit.finished(parts, 176, _("Pulled, pushed, and without force"), told)


def long_and_short() -> Figure:
    """A long stick that bows out beside the same stick held at its middle."""
    parts = []
    for x, halves in ((90.0, 1), (270.0, 2)):
        top, foot = 66.0, 226.0
        parts.append(kit.ghost([(x, top), (x, foot)]))
        parts.append(_bowed(x, top, foot, halves))
        parts.append(kit.arrow((x, 30), (x, top - 6), palette.COMPRESSION, 2.6 if halves == 1 else 4.4))
        parts.append(kit.joints([(x, top), (x, foot)] + ([(x, (top + foot) / 2)] if halves == 2 else [])))
    middle = 146.0
    parts.append(kit.stick((270, middle), (330, middle + 34), 2.4) + kit.stick((270, middle), (330, middle - 34), 2.4))
    parts.append(kit.joints([(270, middle), (330, middle + 34), (330, middle - 34)]))
    parts.append(kit.say(_("a small push"), (90, 16), colour=palette.COMPRESSION))
    parts.append(kit.say(_("up to 4 times as much"), (270, 16), colour=palette.COMPRESSION))
    parts.append(kit.say(_("Long: it bows out."), (90, 252), bold=True))
    parts.append(kit.say(_("Held at its middle."), (270, 252), bold=True))
    told = _(
        "A long stick that is pushed at its ends bows out to one side. The same stick, held at its middle by two more "
        "sticks, takes up to four times the push before each half bows out."
    )
    return kit.finished(parts, 268, _("How a stick buckles"), told)


def how_full() -> Figure:
    """Three sticks by the share of what they can take."""
    rows = (
        (1.0, _("breaks first: leave it")),
        (0.6, _("does its share")),
        (0.15, _("could be thinner")),
    )
    parts = []
    for place, (share, means) in enumerate(rows):
        y = 26.0 + 40 * place
        parts.append(kit.box(20, y - 10, 110, 20))
        parts.append(kit.box(20, y - 10, 110 * share, 20, palette.COMPRESSION if share == 1 else palette.FAINT))
        parts.append(kit.say(f"{figure(100 * share)} %", (176, y), "end", bold=True))
        parts.append(kit.say(means, (190, y), "start"))
    told = _(
        "Three sticks drawn as bars. One is full, at 100 %: it breaks first. One is at 60 %: it does its share. "
        "One is at 15 %: it could be thinner."
    )
    return kit.finished(parts, 128, _("How full three sticks are"), told)


def _bowed(x: float, top: float, foot: float, halves: int) -> str:
    """A stick that buckles in one half wave or two, the fewer the wider."""
    reach, steps = 30.0 / halves**2, 24
    ways = [i / steps for i in range(steps + 1)]
    points = [(x - reach * math.sin(halves * math.pi * way), top + way * (foot - top)) for way in ways]
    return polyline(points, stroke=palette.COMPRESSION, stroke_width=palette.COMPRESSION_WIDTH)
