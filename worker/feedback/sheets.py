"""Feedback sheets as PDF: one HTML, one style sheet, and nothing fetched from anywhere.

The output targets PDF/UA-1 (tags, language, title, alternative text); the same input gives the
same bytes.
"""

from __future__ import annotations

import base64
import gc
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from importlib.resources import files
from typing import Any, cast

from jinja2 import Environment, PackageLoader, StrictUndefined
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher

from rubric.brief import Brief
from rubric.messages.orders import PrintOrder, SheetHead
from rubric.messages.outcomes import Marked, Printed
from rubric.wording import figure, points
from worker.feedback import room, view
from worker.feedback.text import prose

_PAPERS = ("A4", "Letter")
_SELDOM = 50_000
"""Objects between two rounds of the garbage collector while a sheet is set; most jitter is its work."""


class NothingFetched(URLFetcher):
    """Refuses every address: a sheet is made of its own template alone."""

    def fetch(self, url: str, headers: Any = None) -> Any:
        raise ValueError("a sheet fetches nothing")


def print_sheet(order: PrintOrder) -> Printed:
    """Set the sheet that an order asks for."""
    pdf = sheet_pdf(order.head, order.brief, order.outcome)
    return Printed(job=order.job, attempt=order.attempt, pdf_base64=base64.b64encode(pdf).decode())


def sheet_pdf(head: SheetHead, brief: Brief, outcome: Marked) -> bytes:
    """The feedback sheet as a PDF."""
    with _fewer_collections():
        page = HTML(string=_page(head, brief, outcome, style=""), url_fetcher=NothingFetched())
        pdf = page.write_pdf(
            stylesheets=[_css(_paper(head))], font_config=_fonts(), pdf_variant="pdf/ua-1", pdf_tags=True
        )
    return cast(bytes, pdf)


def sheet_html(head: SheetHead, brief: Brief, outcome: Marked) -> str:
    """The same sheet as one HTML page with its style inside."""
    return _page(head, brief, outcome, style=_style(_paper(head)))


def _page(head: SheetHead, brief: Brief, outcome: Marked, style: str) -> str:
    kind = "mistakes" if outcome.analysis is None else outcome.analysis.state
    template = templates().get_template(f"{kind}.html")
    return template.render(head=head, brief=brief, outcome=outcome, view=view, room=room, style=style)


def _paper(head: SheetHead) -> str:
    return head.paper if head.paper in _PAPERS else _PAPERS[0]


@cache
def templates() -> Environment:
    """The templates of all that is set for people to read; every value is escaped."""
    found = Environment(
        loader=PackageLoader("worker.feedback"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    found.filters.update(clean=prose, points=points, figure=figure)
    return found


@cache
def _style(paper: str) -> str:
    text = (files("worker.feedback") / "templates" / "sheet.css").read_text("utf-8")
    return text.replace("size: A4", f"size: {paper}", 1)


@cache
def _css(paper: str) -> Any:
    return CSS(string=_style(paper), font_config=_fonts(), url_fetcher=NothingFetched())


@cache
def _fonts() -> Any:
    """One for the whole process: a fresh one per sheet leaks memory."""
    return FontConfiguration()


@contextmanager
def _fewer_collections() -> Iterator[None]:
    usual = gc.get_threshold()
    gc.set_threshold(_SELDOM, *usual[1:])
    try:
        yield
    finally:
        gc.set_threshold(*usual)
