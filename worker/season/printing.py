"""Certificates and the booklet: from the order of a published list to a PDF."""

from __future__ import annotations

import base64
from functools import cache
from importlib.resources import files

from markupsafe import Markup

from rubric.drawing.svg import titled_in_full
from rubric.language import Language, _, spoken
from rubric.messages.orders import AwardOrder
from rubric.messages.outcomes import Printed
from worker.feedback.typesetter import PAGE, PAGES, numbered, set_illustrated, templates

_LEAST_PT = 13.0
"""The smallest letters for a name on a wall."""


def print_award(order: AwardOrder) -> Printed:
    """Set what an order asks for."""
    pdf = set_illustrated(award_html(order), _style(order.what, order.paper, spoken()))
    return Printed(job=order.job, attempt=order.attempt, pdf_base64=base64.b64encode(pdf).decode())


def award_html(order: AwardOrder) -> str:
    """The same as HTML."""
    divisions = dict.fromkeys(line.division for line in order.lines)
    lists = {name: [line for line in order.lines if line.division == name] for name in divisions}
    drawn = Markup(titled_in_full(order.drawing)) if order.drawing else ""  # noqa: S704 - ours  # nosec B704
    template = templates().get_template(f"{order.what}.html")
    return template.render(order=order, lists=lists, drawing=drawn, ordinal=ordinal, fitted=fitted_pt)


def fitted_pt(text: str, most_pt: float, letters: int, lines: int = 2) -> float:
    """A size at which words fit into so many lines, pt: ``letters`` of them fill a line at ``most_pt``.

    A word that is longer than a line comes out smaller, down to the smallest that is easily read; beyond that it is
    broken.
    """
    longest = max(map(len, text.split()), default=0)
    fits = min(letters / max(longest, 1), 0.9 * lines * letters / max(len(text), 1), 1.0)  # no line is quite full
    return round(max(_LEAST_PT, fits * most_pt), 1)


def ordinal(place: int) -> str:
    """``1st``, ``2nd``, ``11th``."""
    teen = 10 <= place % 100 <= 20
    last = 0 if teen else place % 10
    text = (
        _("{place}st")
        if last == 1
        else _("{place}nd")
        if last == 2
        else _("{place}rd")
        if last == 3
        else _("{place}th")
    )
    return text.format(place=place)


@cache
def _style(what: str, paper: str, _language: Language) -> str:
    text = (files("worker.feedback") / "templates" / f"{what}.css").read_text("utf-8")
    foot = _("page {page} of {pages}", page=PAGE, pages=PAGES)
    return numbered(text, foot).replace("size: A4", f"size: {paper}", 1)
