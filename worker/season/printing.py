"""Certificates and the booklet: from the order of a published list to a PDF."""

from __future__ import annotations

import base64
from functools import cache
from importlib.resources import files

from markupsafe import Markup

from rubric.drawing.svg import titled_in_full
from rubric.messages.orders import AwardOrder
from rubric.messages.outcomes import Printed
from worker.feedback.typesetter import set_illustrated, templates


def print_award(order: AwardOrder) -> Printed:
    """Set what an order asks for."""
    pdf = set_illustrated(award_html(order), _style(order.what))
    return Printed(job=order.job, attempt=order.attempt, pdf_base64=base64.b64encode(pdf).decode())


def award_html(order: AwardOrder) -> str:
    """The same as HTML."""
    divisions = dict.fromkeys(line.division for line in order.lines)
    lists = {name: [line for line in order.lines if line.division == name] for name in divisions}
    drawn = Markup(titled_in_full(order.drawing)) if order.drawing else ""  # noqa: S704 - ours  # nosec B704
    template = templates().get_template(f"{order.what}.html")
    return template.render(order=order, lists=lists, drawing=drawn, ordinal=ordinal)


def ordinal(place: int) -> str:
    """``1st``, ``2nd``, ``11th``."""
    teen = 10 <= place % 100 <= 20
    return f"{place}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(place % 10, 'th')}"


@cache
def _style(what: str) -> str:
    return (files("worker.feedback") / "templates" / f"{what}.css").read_text("utf-8")
