"""How the truss bends under its target load, drawn much larger than it is."""

from __future__ import annotations

import math
from dataclasses import replace

from rubric.brief import REACH_MM, Brief
from rubric.drawing import palette
from rubric.drawing.boxes import strip
from rubric.drawing.labels import Label, placed
from rubric.drawing.svg import Point, drawing, element, line, lines
from rubric.language import _
from rubric.messages.outcomes import Analysis, Figure, JointRow
from rubric.wording import amount, figure
from worker.feedback.figures.captions import loads_said, named
from worker.feedback.figures.legend import Legend, all_dashed, dashed
from worker.feedback.figures.parts import joints, rule
from worker.feedback.figures.scene import Scene
from worker.feedback.figures.spoken import direction_said, name

_FURTHEST = 40.0
"""The joint that moves most is drawn no further than this from its place."""
_LEAST = 9.0
"""A movement shorter than this is told without arrows."""


def deflected(analysis: Analysis, brief: Brief) -> Figure | None:
    """Draw the deflected shape of a stable truss over the truss as built, and how far midspan goes down, mm.

    Every movement is enlarged by one round number, which is said.  None for a mechanism.
    """
    shifts = {row.name: row.displacement_mm for row in analysis.joints if row.displacement_mm is not None}
    if analysis.state != "stable" or len(shifts) < len(analysis.joints):
        return None
    scene = Scene.of(analysis, line=3.0)
    times = _times(scene, shifts)
    new = {row.name: _place(scene, row, shifts[row.name], times) for row in analysis.joints}
    for row in scene.members:
        scene.space.take(*strip(new[row.start], new[row.end], 4))
    wide = max(0.9, 2.6 * scene.thin)
    before = all_dashed(map(scene.ends, scene.members))
    after = lines(((new[m.start], new[m.end]) for m in scene.members), stroke=palette.MOVEMENT, stroke_width=wide)
    pins = joints(new.values(), max(1.0, 0.7 * scene.radius))
    bent, middle = replace(scene, points=new), _middle(analysis, brief)
    standing, loads = bent.supports(), bent.loads()
    down = _dimension(scene, middle, new) if middle else ""
    names = named(bent)
    parts = [before, *standing, after, pins, *loads, down, *names.drawn]
    legend = Legend(scene.space.bottom - scene.space.top + 18)
    legend.sample(lambda a, b: line(a, b, stroke=palette.MOVEMENT, stroke_width=2.6), _("under the load"))
    legend.sample(dashed, _("as built"))
    for said in (_size_said(times, scene.frame.note), _middle_said(analysis, brief, middle)):
        legend.say(said)
    legend.say(loads_said(scene, loads))
    names.count(legend)
    shifted = element("g", *parts, transform=f"translate(0 {8 - scene.space.top:.1f})")
    title = _("How the truss bends")
    return drawing([shifted, *legend.parts], legend.bottom, title, _said(analysis, brief, times, middle))


def _place(scene: Scene, row: JointRow, shift: tuple[float, float], times: float) -> Point:
    return scene.frame.place((row.x_mm + times * shift[0], row.y_mm + times * shift[1]))


def _times(scene: Scene, shifts: dict[str, tuple[float, float]]) -> float:
    """1, 2 or 5 times a power of ten, so that the largest movement on the page is just short of the furthest."""
    most = max((math.hypot(x * scene.frame.x, y * scene.frame.y) for x, y in shifts.values()), default=0.0)
    if most <= 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(_FURTHEST / most))
    return max(step * power for step in (1, 2, 5) if step * power * most <= _FURTHEST)


def _middle(analysis: Analysis, brief: Brief) -> JointRow | None:
    """The deck joint nearest midspan: the same that ``midspan_deflection_mm`` is of."""
    reach = brief.span_mm + REACH_MM
    deck = [row for row in analysis.joints if abs(row.y_mm) <= REACH_MM and -REACH_MM <= row.x_mm <= reach]
    return min(sorted(deck, key=lambda row: row.x_mm), key=lambda row: abs(row.x_mm - brief.span_mm / 2), default=None)


def _dimension(scene: Scene, row: JointRow, new: dict[str, Point]) -> str:
    """The way down of one joint, between two rules beside it, and its size."""
    start, end = scene.points[row.name], new[row.name]
    down_mm = 0.0 - (row.displacement_mm or (0.0, 0.0))[1]
    size = amount(abs(down_mm), "mm")
    label = Label(_("{size} up", size=size) if down_mm < 0 else size, bold=True)
    if abs(end[1] - start[1]) < _LEAST:
        return ""
    for x in (start[0] + off for off in (22.0, -22.0, 34.0, -34.0, 50.0, -50.0)):
        middle = (x, (start[1] + end[1]) / 2)
        near = math.copysign(label.width / 2 + 6, x - start[0])
        places = [((x + near, middle[1] + step), (1.0, 0.0)) for step in (0, 12, -12, 24, -24, 36)]
        strokes = [*strip((x, start[1]), (x, end[1]), 6), *strip(start, (x, start[1]), 2), *strip(end, (x, end[1]), 2)]
        if not scene.space.legible(*strokes):
            continue
        found = placed(label, places, scene.space)
        if found:
            edges = [line((at[0], at[1]), (x, at[1]), stroke=palette.INK, stroke_width=0.7) for at in (start, end)]
            scene.space.take(*strokes)
            return rule((x, start[1]), (x, end[1])) + "".join(edges) + found
    return ""


def _size_said(times: float, note: str) -> str:
    if times == 1:
        said = _("Movements are drawn in their true size.")
    elif times > 1:
        said = _("Movements are drawn {times} times too large, so that they can be seen.", times=figure(times))
    else:
        said = _("Movements are drawn {times} times too small: they would leave the page.", times=figure(1 / times))
    return f"{said} {note}".strip()


def _middle_said(analysis: Analysis, brief: Brief, middle: JointRow | None) -> str:
    """What midspan does at the target load; where the load travels, also the most that it does."""
    if middle is None or middle.displacement_mm is None:
        return ""
    down_mm = 0.0 - middle.displacement_mm[1]
    said = _goes(name(middle.name), down_mm, amount(brief.load.target_N, "N"))
    most = analysis.midspan_deflection_mm
    if most is not None and analysis.travel is not None and amount(most, "mm") != amount(down_mm, "mm"):
        worst = _(
            "That is with the load on joint {joint}; the most is {size}.",
            joint=name(analysis.travel.worst),
            size=amount(most, "mm"),
        )
        said = f"{said} {worst}"
    return said


def _goes(joint: str, down_mm: float, load: str) -> str:
    if not down_mm:
        text = _("Joint {joint}, in the middle of the deck, stays where it is at the target load of {load}.")
    elif down_mm < 0:
        text = _("Joint {joint}, in the middle of the deck, goes up {size} at the target load of {load}.")
    else:
        text = _("Joint {joint}, in the middle of the deck, goes down {size} at the target load of {load}.")
    return text.format(joint=joint, size=amount(abs(down_mm), "mm"), load=load)


def _said(analysis: Analysis, brief: Brief, times: float, middle: JointRow | None) -> str:
    rows = [(math.hypot(*(row.displacement_mm or (0.0, 0.0))), row) for row in analysis.joints]
    most_mm, row = max(rows, key=lambda found: found[0], default=(0.0, None))
    furthest = _("No joint moves.")
    if row is not None and most_mm > 0:
        way = direction_said(row.displacement_mm or (0.0, 0.0))
        size = amount(most_mm, "mm")
        furthest = _("Joint {joint} moves furthest: {size}, {way}.", joint=name(row.name), size=size, way=way)
    middle_said = _middle_said(analysis, brief, middle)
    drawn = _("The truss as built, in dashes, and as it bends.")
    return f"{drawn} {middle_said} {furthest} {_size_said(times, '')}"
