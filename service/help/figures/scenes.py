"""What stands around a bridge: the room that a brief leaves, the bench, the rig."""

from __future__ import annotations

from itertools import pairwise

from rubric.drawing import palette
from rubric.drawing.svg import Point, line
from rubric.language import _
from rubric.messages.outcomes import Figure
from service.help.figures import kit


def room_of_a_brief() -> Figure:
    """A truss within the room that span and depth leave, its load at the middle."""
    foot: list[Point] = [(50, 140), (115, 140), (180, 140), (245, 140), (310, 140)]
    head: list[Point] = [(115, 80), (180, 80), (245, 80)]
    sticks = [*pairwise(foot), *pairwise(head), (foot[0], head[0]), (head[2], foot[4])]
    sticks += [*zip(foot[1:4], head, strict=True), (head[0], foot[2]), (foot[2], head[2])]
    parts = [
        kit.box(50, 60, 260, 104, palette.SHADE, dashed=True),
        *(kit.stick(a, b, 3) for a, b in sticks),
        kit.supports(foot[0], foot[4]),
        kit.joints([*foot, *head]),
        kit.arrow((180, 146), (180, 196), palette.INK, 3),
        kit.say(_("load"), (190, 188), "start", bold=True),
        kit.arrow((180, 32), (310, 32), palette.INK, 1.4),
        kit.arrow((180, 32), (50, 32), palette.INK, 1.4),
        kit.say(_("span"), (180, 18), bold=True),
        kit.say(_("No joint outside this room."), (180, 220)),
    ]
    told = _(
        "A truss from one support to the other, with a load hung from the middle of its deck. A dashed frame around it "
        "shows the room within which its joints must lie."
    )
    return kit.finished(parts, 236, _("What a brief asks"), told)


def glued_on_the_plan() -> Figure:
    """From the side: board, plan, clear film, and two sticks glued on it under a weight."""
    layers = (
        (132, 16, palette.FAINT, _("wooden board")),
        (124, 5, palette.PAPER, _("plan")),
        (117, 3, palette.SHADE, _("clear film")),
    )
    parts = [kit.box(20, y, 210, high, fill) for y, high, fill, __ in layers]
    for (y, high, __, name), at in zip(layers, (152, 130, 108), strict=True):
        parts.append(line((231, y + high / 2), (262, at), stroke=palette.INK, stroke_width=1))
        parts.append(kit.say(name, (268, at), "start"))
    parts += [
        kit.box(40, 101, 90, 14, "#ead9b8"),
        kit.box(130, 101, 80, 14, "#ead9b8"),
        kit.box(112, 88, 36, 11, "#ead9b8"),
        kit.box(108, 44, 44, 42, palette.NOTHING),
        line((150, 92), (262, 84), stroke=palette.INK, stroke_width=1),
        kit.say(_("glued joint"), (268, 84), "start", bold=True),
        line((152, 62), (262, 56), stroke=palette.INK, stroke_width=1),
        kit.say(_("a weight"), (268, 56), "start"),
        kit.say(_("Seen from the side"), (20, 18), "start"),
    ]
    told = _(
        "Seen from the side: on a board lies the plan, on the plan clear film, on the film two sticks. A third piece "
        "is glued over both where they meet, and a weight holds them down while the glue dries."
    )
    return kit.finished(parts, 168, _("Gluing on the plan"), told)


def load_test() -> Figure:
    """A bridge on the rig: load, catch box, and the line that others stay behind."""
    deck: list[Point] = [(40, 100), (80, 100), (120, 100), (160, 100), (200, 100)]
    top: list[Point] = [(80, 62), (120, 62), (160, 62)]
    sticks = [*pairwise(deck), *pairwise(top), (deck[0], top[0]), (top[2], deck[4])]
    sticks += [*zip(deck[1:4], top, strict=True), (top[0], deck[2]), (deck[2], top[2])]
    parts = [
        kit.box(18, 104, 40, 122, palette.SHADE),
        kit.box(182, 104, 40, 122, palette.SHADE),
        *(kit.stick(a, b, 3) for a, b in sticks),
        kit.joints([*deck, *top]),
        line((120, 104), (120, 150), stroke=palette.INK, stroke_width=2),
        kit.box(98, 150, 44, 30, palette.NOTHING),
        kit.box(78, 200, 84, 26, palette.PAPER),
        kit.say(_("catch box"), (120, 240)),
        line((10, 226), (350, 226), stroke=palette.INK, stroke_width=2),
        line((262, 44), (262, 226), stroke=palette.OVER, stroke_width=3, stroke_dasharray=palette.DASHES),
        kit.arrow((242, 160), (226, 160), palette.OVER, 1.6),
        kit.arrow((242, 160), (258, 160), palette.OVER, 1.6),
        kit.say("2 m", (242, 146), bold=True, colour=palette.OVER),
        kit.say(_("All others"), (311, 120)),
        kit.say(_("stay behind"), (311, 138)),
        kit.say(_("the line."), (311, 156)),
        kit.say(_("The load grows slowly."), (12, 22), "start", bold=True),
    ]
    told = _(
        "A bridge lies on two blocks. A load hangs from its middle, above a catch box. A line on the floor, 2 m away, "
        "keeps everybody else back."
    )
    return kit.finished(parts, 256, _("A load test"), told)
