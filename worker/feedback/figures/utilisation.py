"""How full each member is: its force at the target load over what it can take."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from rubric.brief import Brief
from rubric.drawing import palette
from rubric.drawing.svg import Point, drawing, element, lines
from rubric.language import _, counted, later
from rubric.messages.outcomes import Analysis, Figure, MemberRow
from rubric.wording import amount, listed
from worker.feedback.figures.captions import captions, first, flag, loads_said
from worker.feedback.figures.legend import Legend
from worker.feedback.figures.parts import member, members
from worker.feedback.figures.scene import Scene
from worker.feedback.figures.spoken import breaks_first_said, name

_MOST_NAMED = 12


@dataclass(frozen=True)
class Step:
    """Members filled up to ``most``: how wide their line is, and its dashes or the white core that make it plain."""

    most: float
    said: str
    wide: float
    dashes: str | None = None
    core: tuple[float, str] | None = None
    colour: str = palette.INK


STEPS = (
    Step(0.25, later("under 25 %"), 1.4, "7 4"),
    Step(0.50, later("25 to 50 %"), 1.9),
    Step(0.75, later("50 to 75 %"), 4.2),
    Step(1.00, later("75 to 100 %"), 7.0, None, (2.2, "")),
    Step(float("inf"), later("over 100 %: too much"), 8.0, None, (4.4, "3 5"), palette.OVER),
)
"""Thicker is fuller.  A white line runs along the fourth step; the last one is chequered."""


def utilisation(analysis: Analysis, brief: Brief) -> Figure | None:
    """Draw how full each member of a stable truss is at the target load, in %.  None for a mechanism.

    Line width and pattern grow in five steps; numbers without room are left out and counted.
    """
    if analysis.state != "stable":
        return None
    scene = Scene.of(analysis, line=8.0)
    breaking = first(scene)
    bars = _bars(scene)
    standing, loads = scene.supports(), scene.loads()
    flags = [flag(scene, row) for row in breaking]
    labels = captions(scene, _percent)
    parts = [*standing, *loads, *bars, *scene.joints(), *flags, *labels.drawn]
    legend = Legend(scene.space.bottom - scene.space.top + 18)
    for step in STEPS:
        legend.sample(_drawer(step), _(step.said))
    if any(row.utilisation == 0 for row in scene.members):
        legend.sample(lambda a, b: member(a, b, 0.0, 1.0), _("0: no force"))
    legend.say(_basis(analysis, brief))
    legend.say(loads_said(scene, loads))
    legend.say(scene.frame.note)
    labels.count(legend)
    shifted = element("g", *parts, transform=f"translate(0 {8 - scene.space.top:.1f})")
    return drawing([shifted, *legend.parts], legend.bottom, _("How full each member is"), _said(analysis, brief))


def step_of(used: float) -> Step:
    """The step that a utilisation falls in; just 100 % is not too much."""
    return next(step for step in STEPS if used <= step.most or step is STEPS[-1])


def _bars(scene: Scene) -> list[str]:
    """All members, those of one step as one."""
    alike: dict[Step, list[tuple[Point, Point]]] = {step: [] for step in reversed(STEPS)}
    for row in scene.members:
        if row.utilisation:
            alike[step_of(row.utilisation)].append(scene.ends(row))
    idle = members([(*scene.ends(row), 0.0) for row in scene.members if row.utilisation == 0], scene.thin)
    return [*idle, *(_filled(ends, step, scene.thin) for step, ends in alike.items())]


def _filled(ends: list[tuple[Point, Point]], step: Step, thin: float) -> str:
    bars = lines(ends, stroke=step.colour, stroke_width=step.wide * thin, stroke_dasharray=step.dashes)
    if step.core is None:
        return bars
    wide, dashes = step.core
    return bars + lines(ends, stroke=palette.PAPER, stroke_width=wide * thin, stroke_dasharray=dashes or None)


def _drawer(step: Step) -> Callable[[Point, Point], str]:
    return lambda a, b: _filled([(a, b)], step, 1.0)


def _percent(row: MemberRow) -> tuple[str, str]:
    colour = palette.NOTHING if row.utilisation == 0 else step_of(row.utilisation).colour
    return amount(row.utilisation, "%"), colour


def _basis(analysis: Analysis, brief: Brief) -> str:
    load = amount(brief.load.target_N, "N")
    if analysis.travel:
        at = _("This is at the target load of {load}, where it is worst for each member.", load=load)
    else:
        at = _("This is at the target load of {load}.", load=load)
    full = _("A member at 100 % is just full: it takes all it can.")
    return f"{full} {at}"


def _said(analysis: Analysis, brief: Brief) -> str:
    """How many members there are in each step, and the fullest by name."""
    counts = [(step, sum(step_of(row.utilisation) is step for row in analysis.members)) for step in reversed(STEPS)]
    shares = [
        counted("{count} member {used}", "{count} members {used}", count, used=_(step.said).split(":")[0])
        for step, count in counts
        if count
    ]
    rows = sorted(analysis.members, key=lambda row: -row.utilisation)[:_MOST_NAMED]
    fullest = [f"{name(row.name)} {amount(row.utilisation, '%')}" for row in rows]
    said = [_basis(analysis, brief), _("There are {shares}.", shares=listed(shares))]
    if len(rows) < len(analysis.members):
        said.append(_("The fullest are {members}.", members=listed(fullest)))
    else:
        said.append(_("They are {members}.", members=listed(fullest)))
    return " ".join((*said, breaks_first_said(analysis)))
