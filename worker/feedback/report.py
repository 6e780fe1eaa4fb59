"""The class report: from the lines of a class to a PDF for its teacher."""

from __future__ import annotations

import base64
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from statistics import fmean, median

from markupsafe import Markup

from rubric.drawing.charts import spread
from rubric.drawing.histogram import histogram
from rubric.drawing.svg import titled_in_full
from rubric.language import Language, _, later, spoken
from rubric.messages.outcomes import Figure, Printed
from rubric.messages.report import CriterionLine, PupilLine, ReportOrder
from worker.feedback.joined import UNIT_MM
from worker.feedback.typesetter import PAGE, PAGES, numbered, set_illustrated, templates

CHART = 345.0
"""Units of a chart that is half as wide as the page; it is printed ``CHART * UNIT_MM`` mm wide."""

STAGES = {
    "not started": later("not started"),
    "waiting": later("being marked"),
    "failed": later("could not be marked"),
    "mistakes": later("mistakes in the file"),
    "mechanism": later("a mechanism"),
    "stands": later("stands"),
    "solved": later("marked"),
}
"""How a table calls how far a pupil is; ``_`` says it."""


@dataclass(frozen=True)
class Middle:
    """What is told of all marks together, in points."""

    count: int
    mean: float
    median: float
    least: float
    most: float


def print_report(order: ReportOrder) -> Printed:
    """Set the report that an order asks for."""
    pdf = report_pdf(order)
    return Printed(job=order.job, attempt=order.attempt, pdf_base64=base64.b64encode(pdf).decode())


def report_pdf(order: ReportOrder) -> bytes:
    """The report as a PDF."""
    return set_illustrated(report_html(order), _style(order.head.paper, spoken()))


def report_html(order: ReportOrder) -> str:
    """The same as HTML."""
    template = templates().get_template("report.html")
    return template.render(
        order=order,
        head=order.head,
        tallies=tallies(order),
        middle=middle(order.pupils),
        charts=[Markup(titled_in_full(one)) for one in _charts(order)],  # noqa: S704 - ours  # nosec B704
        chart_mm=f"{CHART * UNIT_MM:.1f}",
        stages={stage: _(words) for stage, words in STAGES.items()},
        share=share,
        held=any(line.held for line in order.pupils),
        waiting=any(line.waiting for line in order.pupils),
    )


def tallies(order: ReportOrder) -> list[tuple[str, int]]:
    """How many pupils are how far, each with what it counts; rare stages only where somebody is there."""
    by_stage = Counter(line.stage for line in order.pupils)
    told = [
        (_("in the class"), len(order.pupils)),
        (_("handed in"), len(order.pupils) - by_stage["not started"]),
    ]
    if order.bridges:
        told += [(_("stand"), by_stage["stands"]), (_("mechanisms: can move"), by_stage["mechanism"])]
    else:
        told.append((_("marked"), by_stage["solved"]))
    told.append((_("with mistakes in the file"), by_stage["mistakes"]))
    rare = [(_("being marked"), by_stage["waiting"]), (_("could not be marked"), by_stage["failed"])]
    return [*told, *((words, count) for words, count in rare if count), (_("not started"), by_stage["not started"])]


def middle(pupils: Sequence[PupilLine]) -> Middle | None:
    """Mean, median, least and most of the marks there are; None where there are none."""
    marks = [line.points for line in pupils if line.points is not None]
    return Middle(len(marks), fmean(marks), median(marks), min(marks), max(marks)) if marks else None


def share(line: CriterionLine) -> float | None:
    """The part of a criterion's points that the class earned on average; None where there is nothing to earn or say."""
    return line.mean / line.out_of if line.mean is not None and line.out_of > 0 else None


def _charts(order: ReportOrder) -> list[Figure]:
    """How marks and efficiencies spread, each where somebody has one."""
    marks = [line.points for line in order.pupils if line.points is not None]
    efficiencies = [line.best_efficiency for line in order.pupils if line.best_efficiency is not None]
    drawn = [histogram(marks, _("points"), most=order.out_of, wide=CHART)] if marks else []
    return drawn + ([spread(efficiencies, _("best efficiency"), wide=CHART)] if efficiencies else [])


@cache
def _style(paper: str, _language: Language) -> str:
    text = (files("worker.feedback") / "templates" / "report.css").read_text("utf-8")
    foot = _("page {page} of {pages}", page=PAGE, pages=PAGES)
    return numbered(text, foot).replace("size: A4", f"size: {paper}", 1)
