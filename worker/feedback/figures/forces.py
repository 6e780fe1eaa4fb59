"""The truss with its member forces, loads and reactions."""

from __future__ import annotations

from html import escape

from rubric.brief import Brief
from rubric.drawing import palette
from rubric.drawing.svg import drawing, element, line
from rubric.language import _
from rubric.messages.outcomes import Analysis, Figure, MemberRow
from rubric.wording import amount, figure
from worker.feedback.figures.captions import captions, first, flag, loads_said
from worker.feedback.figures.legend import Legend
from worker.feedback.figures.parts import member, members, outline
from worker.feedback.figures.scene import Scene
from worker.feedback.figures.spoken import forces_said, name


def forces(analysis: Analysis, brief: Brief | None = None, linked: bool = False) -> Figure:
    """Draw a stable truss with the force in every member, N, tension positive.

    Tension is a thin green line with arrowheads leaving the joints, compression a thick purple one
    with arrowheads entering them, no force grey dots; numbers carry T or C.  The member that
    breaks first has a double outline and a flag.  Numbers without room are left out and counted.
    ``linked``: each member is a link to its row on a page, ``#member-`` and its place in the analysis.
    """
    scene = Scene.of(analysis)
    breaking, least_N = first(scene), least_shown_N(analysis)
    under = [outline(*scene.ends(row), scene.thin) for row in breaking]
    if linked:
        numbers = {row.name: index for index, row in enumerate(analysis.members)}
        bars = [_link(scene, row, numbers[row.name], least_N) for row in scene.members]
    else:
        bars = members([(*scene.ends(row), shown(row.force_N, least_N)) for row in scene.members], scene.thin)
    standing = scene.supports()
    reactions, loads = scene.actions(reactions=True)
    flags = [flag(scene, row) for row in breaking]
    labels = captions(scene, lambda row: _said(row, least_N))
    parts = [*under, *standing, *reactions, *loads, *bars, *scene.joints(), *flags, *labels.drawn]
    legend = Legend(scene.space.bottom - scene.space.top + 18)
    legend.signs(any(shown(row.force_N, least_N) == 0 for row in scene.members))
    legend.say(_unit_line(brief))
    legend.say(loads_said(scene, loads))
    legend.say(_travel_line(analysis))
    legend.say(_weight_line(analysis))
    legend.say(scene.frame.note)
    labels.count(legend, sum("<text" not in arrow for arrow in reactions))
    moved = element("g", *parts, transform=f"translate(0 {8 - scene.space.top:.1f})")
    return drawing(
        [moved, *legend.parts], legend.bottom, _("Forces in the truss"), forces_said(analysis), linked=linked
    )


def _link(scene: Scene, row: MemberRow, index: int, least_N: float) -> str:
    """A member that can be pointed at and tabbed to, over a wider strip than it is drawn."""
    force_N = shown(row.force_N, least_N)
    kind = _("tension") if force_N > 0 else _("compression") if force_N else _("no force")
    said = f"{name(row.name)}: {amount(abs(force_N), 'N')}, {kind}"
    reach = line(*scene.ends(row), stroke=palette.INK, stroke_width=16 * scene.thin, stroke_opacity=0.0, class_="reach")
    bar = member(*scene.ends(row), force_N, scene.thin)
    return element("a", element("title", escape(said)), reach, bar, id=f"drawn-{index}", href=f"#member-{index}")


def least_shown_N(analysis: Analysis) -> float:
    """A millionth of the largest force: what is no more is drawn and printed as 0."""
    return 1e-6 * max((abs(row.force_N) for row in analysis.members), default=0.0)


def shown(force_N: float, least_N: float) -> float:
    """The force as drawn and printed; ``least_N`` as of :func:`least_shown_N`."""
    return force_N if abs(force_N) > least_N else 0.0


def force_text(force_N: float) -> str:
    """``83.1 T``, ``62 C`` or ``0``: the size, with T for tension and C for compression."""
    if force_N == 0:
        return "0"
    return f"{figure(abs(force_N))} {'T' if force_N > 0 else 'C'}"


def _said(row: MemberRow, least_N: float) -> tuple[str, str]:
    force = shown(row.force_N, least_N)
    colour = palette.NOTHING if not force else palette.TENSION if force > 0 else palette.COMPRESSION
    return force_text(force), colour


def _unit_line(brief: Brief | None) -> str:
    if brief is None:
        return _("All numbers are newtons (N).")
    load = figure(brief.load.target_N)
    if brief.sides == 1:
        return _(
            "All numbers are newtons (N), in the truss, while the whole bridge carries its target load of {load} N.",
            load=load,
        )
    return _(
        "All numbers are newtons (N), in the most loaded side truss, while the whole bridge carries its target load "
        "of {load} N.",
        load=load,
    )


def _travel_line(analysis: Analysis) -> str:
    if analysis.travel is None:
        return ""
    worst = name(analysis.travel.worst)
    return _("The load moves. It is drawn on joint {joint}, where it breaks the bridge first.", joint=worst)


def _weight_line(analysis: Analysis) -> str:
    own_N = sum(row.own_weight_N for row in analysis.joints)
    if not own_N:
        return ""
    return _("The truss's own weight, {weight}, is counted and not drawn.", weight=amount(own_N, "N"))
