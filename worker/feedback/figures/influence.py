"""What a load does to one member as it travels over the deck: an influence line under the truss."""

from __future__ import annotations

from itertools import pairwise

from rubric.brief import Brief
from rubric.drawing import palette
from rubric.drawing.boxes import strip
from rubric.drawing.labels import Label, along, around, placed
from rubric.drawing.svg import Point, drawing, element, line, lines, polyline
from rubric.drawing.text import clean
from rubric.language import _
from rubric.messages.outcomes import Analysis, Figure, Travel
from rubric.wording import amount
from worker.feedback.figures.captions import named, numbers_left_out
from worker.feedback.figures.forces import force_text
from worker.feedback.figures.frame import MARGIN
from worker.feedback.figures.legend import Legend
from worker.feedback.figures.scene import Scene
from worker.feedback.figures.spoken import name

_TALLEST = 130.0
_HIGH = 46.0
"""The largest force stands this far from the line of no force."""


def influence(analysis: Analysis, brief: Brief) -> Figure | None:
    """Draw the force in the member that breaks first over the place of the load, N; None where the load stands still.

    Tension is drawn above the line of no force and compression below it.
    """
    travel = analysis.travel
    if travel is None:
        return None
    scene = Scene.of(analysis, MARGIN, palette.WIDTH, _TALLEST)
    chosen = [row for row in scene.members if row.name == travel.member]
    thin = max(0.8, 1.8 * scene.thin)
    others = (scene.ends(row) for row in scene.members if row not in chosen)
    bars = lines(others, stroke=palette.INK, stroke_width=thin)
    thick = lines(map(scene.ends, chosen), stroke=palette.MOVEMENT, stroke_width=5)
    standing = scene.supports()
    called = [_called(scene, *scene.ends(row), row.name) for row in chosen]
    names = named(scene)
    above = _HIGH if max(travel.forces_N) > 0 else 0.0
    plot, missing = _plot(scene, travel, scene.space.bottom + above + 26, brief)
    legend = Legend(scene.space.bottom - scene.space.top + 20)
    legend.sample(
        lambda a, b: line(a, b, stroke=palette.MOVEMENT, stroke_width=5),
        _("member {member}", member=name(travel.member)),
    )
    legend.sample(lambda a, b: line(a, b, stroke=palette.MOVEMENT, stroke_width=1.8), _("force in it, N: T up, C down"))
    legend.say(_basis(travel, brief))
    if missing:
        legend.say(numbers_left_out(missing))
    names.count(legend)
    parts = [bars, *standing, thick, *scene.joints(), *called, *names.drawn, *plot]
    shifted = element("g", *parts, transform=f"translate(0 {8 - scene.space.top:.1f})")
    said = _said(travel, _basis(travel, brief))
    return drawing([shifted, *legend.parts], legend.bottom, _("One member as the load travels"), said)


def _called(scene: Scene, a: Point, b: Point, member: str) -> str:
    label = Label(clean(member, 14), 12, palette.MOVEMENT, bold=True)
    return placed(label, along(a, b, label, 5, scene.middle), scene.space)


def _plot(scene: Scene, travel: Travel, zero: float, brief: Brief) -> tuple[list[str], int]:
    """The influence line about height ``zero``, a stroke and a number at each place, and how many found no room."""
    scale = _HIGH / max(*map(abs, travel.forces_N), 1e-12)
    xs = [scene.frame.place((place, 0.0))[0] for place in travel.places_mm]
    tips = [(x, zero - scale * force) for x, force in zip(xs, travel.forces_N, strict=True)]
    ends = [scene.frame.place((x, 0.0))[0] for x in (0.0, brief.span_mm)]
    curve = tips if brief.self_weight == "counted" else [(ends[0], zero), *tips, (ends[1], zero)]
    strokes = lines((((x, zero), (x, y)) for x, y in tips), stroke=palette.MOVEMENT, stroke_width=1)
    base = line((ends[0], zero), (ends[1], zero), stroke=palette.INK, stroke_width=1)
    for a, b in pairwise(curve):
        scene.space.take(*strip(a, b, 4))
    scene.space.take(
        *strip((ends[0], zero), (ends[1], zero), 2), *(box for t in tips for box in strip((t[0], zero), t, 2))
    )
    numbers = [_number(scene, tip, force, zero) for tip, force in zip(tips, travel.forces_N, strict=True)]
    unit = Label("N", 11)
    axis_name = placed(unit, around((ends[0], zero), unit, 8, (-1.0, 0.0)), scene.space)
    drawn = [base, strokes, polyline(curve, stroke=palette.MOVEMENT, stroke_width=1.8), *numbers, axis_name]
    return drawn, sum(not number for number in numbers)


def _number(scene: Scene, tip: Point, force_N: float, zero: float) -> str:
    colour = palette.TENSION if force_N > 0 else palette.COMPRESSION if force_N < 0 else palette.NOTHING
    for size in (11.0, 9.0):
        label = Label(force_text(force_N), size, colour)
        found = placed(label, around(tip, label, 4, (0.0, -1.0 if tip[1] <= zero else 1.0)), scene.space)
        if found:
            return found
    return ""


def _basis(travel: Travel, brief: Brief) -> str:
    said = _(
        "The whole load of {load} stands on one joint of the deck after another. "
        "Under each joint is the force in member {member} while the load stands there. "
        "It is worst on joint {joint}.",
        load=amount(brief.load.target_N, "N"),
        member=name(travel.member),
        joint=name(travel.worst),
    )
    if brief.self_weight != "counted":
        return said
    weight = _("The truss's own weight is in it too.")
    return f"{said} {weight}"


def _said(travel: Travel, basis: str) -> str:
    pairs = zip(travel.joints, travel.forces_N, strict=True)
    forces = ", ".join(f"{name(joint)} {force_text(force_N)}" for joint, force_N in pairs)
    on = _("Load on: {forces} (N).", forces=forces)
    return f"{basis} {on}"
