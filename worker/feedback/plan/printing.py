"""The building plan as a PDF: the building sheet, then the side truss at full size."""

from __future__ import annotations

import base64
from dataclasses import dataclass
from functools import cache
from html import escape
from importlib.resources import files

from markupsafe import Markup

from rubric.brief import Brief
from rubric.drawing.palette import INK
from rubric.drawing.svg import element
from rubric.language import Language, _, spoken
from rubric.messages.orders import PlanOrder, SheetHead
from rubric.messages.outcomes import Analysis, Planned
from worker.feedback.plan import laying, pages, sticks
from worker.feedback.plan.laying import layers, meetings
from worker.feedback.plan.markup import mm
from worker.feedback.plan.outlines import Bar, bars
from worker.feedback.plan.pieces import Cutting, cutting
from worker.feedback.plan.steps import steps
from worker.feedback.plan.tiles import MOST_PAGES, Grid, grid
from worker.feedback.typesetter import PAGE, numbered, set_pdf, templates

SHEET_ON = {"A4": "A4", "Letter": "Letter", "A3": "A4"}
"""Paper of the building sheet by that of the plan: a sheet of text is read in the hand."""

_MAP_MM = (136.0, 46.0)


class NoPlan(ValueError):
    """There is nothing to build: the truss is a mechanism."""


@dataclass(frozen=True)
class Building:
    """All that the template shows."""

    cutting: Cutting
    layouts: tuple[Markup, ...]
    """The drawing of each kind of stick."""
    layers: tuple[tuple[str, ...], ...]
    """Names of the members, the layer on the board first."""
    meetings: tuple[laying.Meeting, ...]
    steps: tuple[str, ...]
    grid: Grid | None
    map: Markup
    pages: tuple[pages.PlanPage, ...]


def print_plan(order: PlanOrder) -> Planned:
    """Set the building plan that an order asks for."""
    pdf = plan_pdf(order.head, order.brief, order.title, order.analysis)
    return Planned(job=order.job, attempt=order.attempt, pdf_base64=base64.b64encode(pdf).decode())


def plan_pdf(head: SheetHead, brief: Brief, title: str, analysis: Analysis) -> bytes:
    """The building plan of a stable truss, on the paper that ``head`` names.

    Raises
    ------
    NoPlan
        For a mechanism.
    """
    return set_pdf(plan_html(head, brief, title, analysis), _style(SHEET_ON[head.paper], spoken()))


def plan_html(head: SheetHead, brief: Brief, title: str, analysis: Analysis) -> str:
    """The same as HTML, with the style of its full-size pages inside: their size depends on the truss."""
    if analysis.state != "stable":
        raise NoPlan("a truss that can move has no building plan")
    found = building(analysis, brief, head.paper)
    template = templates().get_template("plan.html")
    return template.render(head=head, brief=brief, title=title, analysis=analysis, plan=found, most_pages=MOST_PAGES)


def building(analysis: Analysis, brief: Brief, paper: str) -> Building:
    """What to cut, how to lay it, and the full-size plan on this paper."""
    cut, laid, outlines = cutting(analysis, brief), layers(analysis, brief), bars(analysis, brief)
    joints = [(joint.x_mm, joint.y_mm) for joint in analysis.joints]
    spread = grid([bar.box for bar in outlines], joints, paper)
    longest_mm = max(kind.length_mm for kind in cut.kinds)
    return Building(
        cutting=cut,
        layouts=tuple(_drawn(sticks.drawn(kind, longest_mm, cut.kerf_mm)) for kind in cut.kinds),
        layers=tuple(tuple(member.name for member in layer) for layer in laid),
        meetings=meetings(analysis, laid),
        steps=steps(analysis, brief, len(laid), len(spread.tiles) if spread else 0),
        grid=spread,
        map=_map(spread, outlines),
        pages=pages.pages(analysis, outlines, cut, spread) if spread else (),
    )


def _drawn(svg: str) -> Markup:
    return Markup(svg)  # noqa: S704 - our own drawing, every word escaped  # nosec B704


def _map(spread: Grid | None, outlines: tuple[Bar, ...]) -> Markup:
    """All pages at a glance; nothing where there is one page or none."""
    if spread is None or len(spread.tiles) < 2:
        return Markup("")
    size = pages.map_size(spread, _MAP_MM)
    names = ", ".join(tile.name for tile in spread.tiles)
    said = _("Map of the pages of the full-size plan, row by row: {names}.", names=names)
    title = element("title", escape(said))
    frame = {"viewBox": f"-0.2 -0.2 {mm(size[0] + 0.4)} {mm(size[1] + 0.4)}", "role": "img", "fill": INK}
    lengths = {"width": f"{mm(size[0])}mm", "height": f"{mm(size[1])}mm", "xmlns": "http://www.w3.org/2000/svg"}
    drawn = element("svg", title, *pages.page_map(spread, outlines, size), **frame, **lengths)
    return _drawn(drawn)


@cache
def _style(paper: str, _language: Language) -> str:
    text = (files("worker.feedback") / "templates" / "plan.css").read_text("utf-8")
    return numbered(text, _("page {page}", page=PAGE)).replace("size: A4", f"size: {paper}", 1)
