"""How a redundant truss falls: which member breaks at which load, one small drawing for each stage."""

from __future__ import annotations

from dataclasses import replace

from rubric.drawing import palette
from rubric.drawing.boxes import Box, Space, text_width
from rubric.drawing.labels import Label, along, placed
from rubric.drawing.svg import Point, drawing, element, lines, words
from rubric.drawing.text import clean
from rubric.language import _, counted, later
from rubric.messages.outcomes import Analysis, Break, Figure, MemberRow
from rubric.wording import amount, figure, listed
from worker.feedback.figures.frame import Frame, fitted
from worker.feedback.figures.legend import Legend, all_dashed, dashed
from worker.feedback.figures.scene import Scene
from worker.feedback.figures.spoken import name

MOST = 6
"""Stages drawn."""
_ACROSS = 3
_WIDE = palette.WIDTH / _ACROSS
_TALLEST = 110.0
_MARGIN = 24.0
_ROW = 15.0
_LINES = 3
"""Rows of words under each small drawing."""
_GAP = 34.0
_NAMED = 3

_BROKEN = {
    "tension": later("is pulled apart"),
    "crushing": later("is crushed"),
    "buckling": later("buckles"),
    "bending": later("breaks at a stiff joint"),
    "joint": later("shears off at its glue"),
    "none": later("breaks"),
}


def collapse(analysis: Analysis) -> Figure | None:
    """Draw the stages in which a redundant truss falls under a load that only grows, N on the whole bridge.

    None for a truss that is not redundant, and for one that gives way as a whole before any member breaks.
    """
    breaks = analysis.outlook.breaks if analysis.outlook else ()
    if not breaks or not analysis.degree or _whole_first(analysis, breaks):
        return None
    space = Space()
    frame = fitted([(row.x_mm, row.y_mm) for row in analysis.joints], _MARGIN, _WIDE, _TALLEST)
    heights = [row.y_mm for row in analysis.joints]
    pitch = (max(heights) - min(heights)) * frame.y + _GAP + _LINES * _ROW
    parts: list[str] = []
    for index, stage in enumerate(breaks[:MOST]):
        corner = (index % _ACROSS * _WIDE, index // _ACROSS * pitch)
        gone = {member for before in breaks[:index] for member in before.members}
        parts += _words(_told(index, breaks), corner, space)  # first, so that no name is put where they stand
        parts += _stage(Scene.on(analysis, _shifted(frame, corner), space), stage, gone)
    legend = Legend(space.bottom - space.top + 20)
    legend.sample(_breaking, _("breaks now"))
    legend.sample(dashed, _("broken before"))
    legend.say(_basis(breaks))
    legend.say(frame.note)
    shifted = element("g", *parts, transform=f"translate(0 {8 - space.top:.1f})")
    return drawing([shifted, *legend.parts], legend.bottom, _("How the truss falls"), _said(breaks))


def _whole_first(analysis: Analysis, breaks: tuple[Break, ...]) -> bool:
    whole_N = analysis.outlook.whole_load_N if analysis.outlook else None
    return whole_N is not None and whole_N < breaks[0].at_N


def _shifted(frame: Frame, by: Point) -> Frame:
    return replace(frame, start=frame.start + by[0], low=frame.low + by[1] / frame.y)


def _stage(scene: Scene, stage: Break, gone: set[str]) -> list[str]:
    """The truss that is left, and what of it breaks now."""
    breaking = [row for row in scene.members if row.name in stage.members and row.name not in gone]
    whole = (row for row in scene.members if row.name not in gone and row not in breaking)
    drawn = [
        all_dashed(scene.ends(row) for row in scene.members if row.name in gone),
        lines(map(scene.ends, whole), stroke=palette.INK, stroke_width=max(0.8, 1.8 * scene.thin)),
        *(_breaking(*scene.ends(row)) for row in breaking),
    ]
    return [*drawn, *scene.joints(), *(_named(scene, row) for row in scene.members if row.name in stage.members)]


def _named(scene: Scene, row: MemberRow) -> str:
    a, b = scene.ends(row)
    for size in (11.0, 9.0):
        label = Label(clean(row.name, 14), size, palette.OVER, bold=True)
        found = placed(label, along(a, b, label, 6 * scene.thin + 3, scene.middle), scene.space)
        if found:
            return found
    return ""  # the words under the drawing name it too


def _breaking(a: Point, b: Point) -> str:
    """A thick line with a gap in its middle."""
    near, far = ((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])) for t in (0.44, 0.56))
    return lines(((a, near), (far, b)), stroke=palette.OVER, stroke_width=4.4)


def _words(text: str, corner: Point, space: Space) -> list[str]:
    """What a stage says, on rows under its drawing."""
    left, top = corner[0] + 10, corner[1] + 20
    space.write(Box((corner[0] + _WIDE / 2, top + _LINES * _ROW / 2 - 8), _WIDE / 2 - 4, _LINES * _ROW / 2))
    rows = [""]
    for word in text.split():
        if text_width(f"{rows[-1]} {word}", 11) > _WIDE - 22:
            rows.append("")
        rows[-1] = f"{rows[-1]} {word}".strip()
    return [
        words(row, (left, top + i * _ROW), text_anchor="start", font_size=11) for i, row in enumerate(rows[:_LINES])
    ]


def _told(index: int, breaks: tuple[Break, ...]) -> str:
    """``2. At once: b-d buckled.``"""
    stage = breaks[index]
    when = _("At once") if stage.at_once else _("At {load}", load=amount(stage.at_N, "N"))
    more = len(stage.members) - 1
    if not more:
        what = f"{clean(stage.members[0], 14)} {_(_BROKEN[stage.modes[0]])}"
    elif more < _NAMED:
        what = _("{members} break", members=listed([clean(member, 14) for member in stage.members]))
    else:
        first = clean(stage.members[0], 14)
        what = counted("{member} and {count} other break", "{member} and {count} others break", more, member=first)
    said, end = f"{index + 1}. {when}: {what}.", _("Then the rest falls.")
    return f"{said} {end}" if index == len(breaks) - 1 else said


def _basis(breaks: tuple[Break, ...]) -> str:
    said = [
        _(
            "The load on the whole bridge only grows. A member that breaks carries nothing from then on, and the "
            "others take its share."
        )
    ]
    peak, first = breaks[-1].at_N, breaks[0].at_N
    if peak > first * 1.0005:
        said.append(_("After its first break it still carries more, up to {load}.", load=amount(peak, "N")))
    if len(breaks) > MOST:
        said.append(counted("{count} more stage follows.", "{count} more stages follow.", len(breaks) - MOST))
    return " ".join(said)


def _said(breaks: tuple[Break, ...]) -> str:
    stages = []
    for index, stage in enumerate(breaks):
        number, pairs = figure(index + 1), zip(stage.members, stage.modes, strict=True)
        what = listed([f"{name(member)} {_(_BROKEN[how])}" for member, how in pairs])
        if stage.at_once:
            stages.append(_("stage {number}, at once: {breaks}", number=number, breaks=what))
        else:
            load = amount(stage.at_N, "N")
            stages.append(_("stage {number}, at {load}: {breaks}", number=number, load=load, breaks=what))
    end = _("Then the rest falls.")
    return f"{_basis(breaks)} {'; '.join(stages)}. {end}"
