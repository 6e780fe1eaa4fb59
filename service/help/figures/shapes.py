"""Why triangles: a square folds, a triangle keeps its shape; and how a truss is written down."""

from __future__ import annotations

from itertools import pairwise

from rubric.drawing import palette
from rubric.drawing.svg import Point, line, lines
from rubric.language import _
from rubric.messages.outcomes import Figure
from service.help.figures import kit


def square_and_triangle() -> Figure:
    """A square that a push folds beside a triangle that the same push leaves as it is."""
    stood: list[Point] = [(40, 150), (40, 60), (130, 60), (130, 150)]
    folded: list[Point] = [(40, 150), (72, 66), (162, 66), (130, 150)]
    triangle: list[Point] = [(220, 150), (270, 60), (320, 150)]
    parts = [
        kit.ghost(stood),
        *(kit.stick(a, b) for a, b in pairwise([*folded, folded[0]])),
        *(kit.stick(a, b) for a, b in pairwise([*triangle, triangle[0]])),
        kit.joints([*folded, *triangle]),
        kit.arrow((14, 60), (36, 60)),
        kit.arrow((236, 60), (262, 60)),
        kit.say(_("A push"), (6, 40), "start", colour=palette.MOVEMENT),
        kit.say(_("The same push"), (186, 40), "start", colour=palette.MOVEMENT),
        kit.say(_("A square folds."), (96, 178), bold=True),
        kit.say(_("A triangle stays."), (270, 178), bold=True),
    ]
    told = _(
        "Four sticks in a square lean over when they are pushed from the side. Three sticks in a triangle do not move."
    )
    return kit.finished(parts, 196, _("A square and a triangle"), told)


def written_down() -> Figure:
    """A small truss on graph paper, its joints named with their places."""
    left, base, cell = 50.0, 170.0, 26.0
    across, up = range(11), range(6)
    grid = [((left + i * cell, base), (left + i * cell, base - 5 * cell)) for i in across]
    grid += [((left, base - i * cell), (left + 10 * cell, base - i * cell)) for i in up]
    a, b, c, d = (left, base), (left + 5 * cell, base), (left + 10 * cell, base), (left + 5 * cell, base - 4 * cell)
    parts = [
        lines(grid, stroke="#cfd6d2", stroke_width=1),
        *(kit.stick(one, other) for one, other in ((a, b), (b, c), (a, d), (d, c), (b, d))),
        kit.supports(a, c),
        kit.joints([a, b, c, d]),
        kit.say("a: [0, 0]", (6, base + 34), "start"),
        kit.say("b: [300, 0]", (b[0], base + 34)),
        kit.say("c: [600, 0]", (354, base + 34), "end"),
        kit.say("d: [300, 150]", (d[0], d[1] - 20), bold=True),
        kit.say(_("300 right, 150 up"), (d[0] + 14, d[1] + 2), "start", colour=palette.MOVEMENT),
        line((a[0], a[1] + 3), a, stroke=palette.INK),
    ]
    told = _(
        "A truss on graph paper with four joints. a is at the left support, b in the middle, c at the right support, "
        "and d stands above b: 300 mm to the right and 150 mm up."
    )
    return kit.finished(parts, 222, _("A truss on graph paper"), told)
