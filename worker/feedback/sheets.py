"""Feedback sheets: one HTML and one style sheet, made from a brief and an outcome alone."""

from __future__ import annotations

import base64
from functools import cache
from importlib.resources import files

from rubric.brief import Brief
from rubric.language import Language, _, spoken
from rubric.messages.orders import PrintOrder, SheetHead
from rubric.messages.outcomes import Marked, Printed
from worker.feedback import room, view
from worker.feedback.telling import told
from worker.feedback.typesetter import PAGE, PAGES, numbered, set_illustrated, templates

_PAPERS = ("A4", "Letter")


def print_sheet(order: PrintOrder) -> Printed:
    """Set the sheet that an order asks for."""
    pdf = sheet_pdf(order.head, order.brief, order.outcome)
    return Printed(job=order.job, attempt=order.attempt, pdf_base64=base64.b64encode(pdf).decode())


def sheet_pdf(head: SheetHead, brief: Brief, outcome: Marked) -> bytes:
    """The feedback sheet as a PDF."""
    return set_illustrated(_page(head, brief, outcome, style=""), _style(_paper(head), spoken()))


def sheet_html(head: SheetHead, brief: Brief, outcome: Marked) -> str:
    """The same sheet as one HTML page with its style inside."""
    return _page(head, brief, outcome, style=_style(_paper(head), spoken()))


def _page(head: SheetHead, brief: Brief, outcome: Marked, style: str) -> str:
    found = outcome.analysis
    kind = "mistakes" if found is None else "problem" if brief.problem and found.state == "stable" else found.state
    template = templates().get_template(f"{kind}.html")
    return template.render(
        head=head,
        brief=brief,
        outcome=outcome,
        view=view,
        room=room,
        style=style,
        told=told(found, brief) if found else None,
    )


def _paper(head: SheetHead) -> str:
    return head.paper if head.paper in _PAPERS else _PAPERS[0]


@cache
def _style(paper: str, _language: Language) -> str:
    text = (files("worker.feedback") / "templates" / "sheet.css").read_text("utf-8")
    foot = _("page {page} of {pages}", page=PAGE, pages=PAGES)
    return numbered(text, foot).replace("size: A4", f"size: {paper}", 1)
