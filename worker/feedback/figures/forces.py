"""The truss with its member forces, loads and reactions."""

from __future__ import annotations

import math

from rubric.brief import Brief
from rubric.drawing import palette
from rubric.drawing.boxes import strip
from rubric.drawing.labels import Label, along, around, placed
from rubric.drawing.svg import Point, drawing, element, line
from rubric.messages.outcomes import Analysis, Figure, MemberRow
from rubric.wording import amount, figure, plural
from worker.feedback.figures.legend import Legend
from worker.feedback.figures.parts import member, outline
from worker.feedback.figures.scene import Scene
from worker.feedback.figures.spoken import forces_said, name

_SIZES = (12.0, 10.5, 9.0)
_CROWDED = 60
"""With more members than this only the smallest size is tried."""
_OVERHANG = 1.5
"""A label longer than its member times this would seem to belong to the next one."""


def forces(analysis: Analysis, brief: Brief | None = None) -> Figure:
    """Draw a stable truss with the force in every member, N, tension positive.

    Tension is a thin green line with arrowheads leaving the joints, compression a thick purple one
    with arrowheads entering them, no force grey dots; numbers carry T or C.  The member that
    breaks first has a double outline and a flag.  Numbers without room are left out and counted.
    """
    scene = Scene.of(analysis)
    first = _first(scene)
    under = [outline(*scene.ends(row), scene.thin) for row in first]
    bars = [member(*scene.ends(row), shown(row.force_N, analysis), scene.thin) for row in scene.members]
    standing = scene.supports()
    reactions, loads = scene.actions(reactions=True)
    flags = [_flag(scene, row) for row in first]
    labels, missing = _labels(scene)
    parts = [*under, *standing, *reactions, *loads, *bars, *scene.joints(), *flags, *labels]
    legend = Legend(scene.space.bottom - scene.space.top + 18)
    legend.signs(any(shown(row.force_N, analysis) == 0 for row in scene.members))
    legend.say(_unit_line(brief))
    legend.say(_loads_line(scene, loads))
    legend.say(_travel_line(analysis))
    legend.say(_weight_line(analysis))
    legend.say(scene.frame.note)
    if missing:
        legend.say(f"{plural(missing, 'number')} had no room in this drawing.")
    moved = element("g", *parts, transform=f"translate(0 {8 - scene.space.top:.1f})")
    return drawing([moved, *legend.parts], legend.bottom, "Forces in the truss", forces_said(analysis))


def shown(force_N: float, analysis: Analysis) -> float:
    """The force as drawn and printed: 0 where it is a millionth of the largest or less."""
    largest = max((abs(row.force_N) for row in analysis.members), default=0.0)
    return force_N if abs(force_N) > 1e-6 * largest else 0.0


def force_text(force_N: float) -> str:
    """``83.1 T``, ``62 C`` or ``0``: the size, with T for tension and C for compression."""
    if force_N == 0:
        return "0"
    return f"{figure(abs(force_N))} {'T' if force_N > 0 else 'C'}"


def _unit_line(brief: Brief | None) -> str:
    if brief is None:
        return "All numbers are newtons (N)."
    load = figure(brief.load.target_N)
    sides = "the truss" if brief.sides == 1 else "the most loaded side truss"
    return f"All numbers are newtons (N), in {sides}, while the whole bridge carries its target load of {load} N."


def _travel_line(analysis: Analysis) -> str:
    if analysis.travel is None:
        return ""
    return f"The load moves. It is drawn on joint {name(analysis.travel.worst)}, where it breaks the bridge first."


def _weight_line(analysis: Analysis) -> str:
    own_N = sum(row.own_weight_N for row in analysis.joints)
    return f"The truss's own weight, {amount(own_N, 'N')}, is counted and not drawn." if own_N else ""


def _loads_line(scene: Scene, drawn: list[str]) -> str:
    """The size of the loads, where an arrow has no room for its number."""
    if all("<text" in arrow for arrow in drawn):
        return ""
    sizes = {f"{figure(math.hypot(*row.load_N))} N" for row in scene.loaded}
    return f"Each load is {sizes.pop()}." if len(sizes) == 1 else "Some loads have no room for their number."


def _first(scene: Scene) -> list[MemberRow]:
    failure = scene.analysis.first_failure
    return [row for row in scene.members if failure is not None and row.name == failure.member]


def _flag(scene: Scene, row: MemberRow) -> str:
    """'breaks first', outside the truss where there is room, with a line to the member."""
    a, b = scene.ends(row)
    middle: Point = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    label = Label("breaks first", bold=True)
    away = (middle[0] - scene.middle[0], middle[1] - scene.middle[1])
    outward = away if away != (0.0, 0.0) else (0.0, -1.0)
    for crossing in (False, True):  # better across other members than no flag at all
        for gap in (26.0, 44.0, 64.0, 90.0, 120.0):
            for at, _ in around(middle, label, gap, outward):
                box = label.box(at)
                left, _, right, _ = box.bounds
                if not (left > 4 and right < palette.WIDTH - 4 and scene.space.free(box)):
                    continue
                foot = _foot(at, middle, box.reach)
                lead = strip(_short_of(middle, foot, 9 * scene.thin + 2), foot, 3)
                if crossing or all(map(scene.space.free, lead)):
                    scene.space.take(box, *lead)
                    return label.drawn(box) + line(middle, foot, stroke=palette.INK, stroke_width=1)
    return ""


def _foot(at: Point, target: Point, reach: Point) -> Point:
    """Where the line from a label's centre to ``target`` leaves the label."""
    dx, dy = target[0] - at[0], target[1] - at[1]
    part = min(reach[0] / abs(dx) if dx else 9.0, reach[1] / abs(dy) if dy else 9.0, 1.0)
    return at[0] + dx * part, at[1] + dy * part


def _short_of(end: Point, start: Point, gap: float) -> Point:
    dx, dy = start[0] - end[0], start[1] - end[1]
    part = min(1.0, gap / max((dx * dx + dy * dy) ** 0.5, 1e-9))
    return end[0] + dx * part, end[1] + dy * part


def _labels(scene: Scene) -> tuple[list[str], int]:
    """Forces and names at the largest size at which all find room, and how many forces found none."""
    sizes = _SIZES if len(scene.members) <= _CROWDED else _SIZES[-1:]
    before = scene.space
    tries = []
    for size in sizes:
        attempt = Scene(scene.analysis, scene.frame, scene.points, scene.members, scene.thin, before.copy())
        numbers = _numbers(attempt, size)
        names = attempt.names(size)
        missing = sum(not text for text in numbers)
        tries.append((missing + sum(not text for text in names), -size, missing, numbers + names, attempt.space))
        if tries[-1][0] == 0:
            break
    _, _, missing, drawn, space = min(tries, key=lambda found: found[:2])
    scene.space.take(*space.taken[len(before.taken) :])
    return drawn, missing


def _numbers(scene: Scene, size: float) -> list[str]:
    """The force beside each member, the most used members first."""
    drawn = []
    outlined = _first(scene)
    for row in sorted(scene.members, key=lambda row: (-row.utilisation, -abs(row.force_N))):
        force = shown(row.force_N, scene.analysis)
        colour = palette.NOTHING if not force else palette.TENSION if force > 0 else palette.COMPRESSION
        label = Label(force_text(force), size, colour)
        a, b = scene.ends(row)
        gap = (7.4 if row in outlined else 3.2) * scene.thin + 1.5
        places = [
            (at, axis)
            for at, axis in along(a, b, label, gap, scene.middle)
            if axis[1] or label.width <= _OVERHANG * abs(b[0] - a[0]) or abs(b[1] - a[1]) >= 2 * size
        ]
        drawn.append(placed(label, places, scene.space))
    return drawn
