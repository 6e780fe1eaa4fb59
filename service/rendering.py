"""What templates may use: filters, and the values every page shows."""

from __future__ import annotations

import re
from datetime import datetime

from flask import Flask
from flask_wtf.csrf import generate_csrf
from markupsafe import Markup
from sqlalchemy.exc import SQLAlchemyError

from rubric.criteria.common import points_said
from rubric.language import LANGUAGES, _, form_for, spoken
from rubric.wording import amount, figure, listed, localised, plural, points
from service import web
from service.classes.brief_said import criterion_asks, criterion_means
from service.classes.compared import side
from service.classes.outline import outline
from service.classes.overview import state_said
from service.kept_words import change_said, why_said
from service.records.models import STUDENT
from service.saying import here, moment_said, notice_said, ordinal

HALF_WIDTH = 500
"""Units of a drawing; one of full width has 720."""


def teach_templates(app: Flask) -> None:
    """Register filters and common values."""
    app.jinja_env.filters.update(
        figure=figure,
        amount=amount,
        points=points_said,
        as_points=points,
        listed=listed,
        plural=plural,
        ordinal=ordinal,
        moment=_moment,
        drawing=_drawing,
        breadth=_breadth,
        state=state_said,
        side=side,
        one_decimal=lambda value: localised(f"{value:.1f}"),
        said=_,
        raised=lambda text: text[:1].upper() + text[1:],
        changed=change_said,
        reason=why_said,
    )
    app.jinja_env.globals.update(csrf=_csrf, asks=criterion_asks, outline=outline, means=criterion_means)
    app.jinja_env.globals.update(_=_in_html, counted=_counted_in_html, languages=LANGUAGES)
    app.jinja_env.globals.update(notice_said=notice_said)
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.context_processor(_common)


def zone() -> str:
    """The school's time zone."""
    school = web.school()
    return school.zone if school else "UTC"


def _common() -> dict[str, object]:
    person = web.person_or_none()
    try:
        school = web.school()
    except SQLAlchemyError:
        school = None  # a page that says what went wrong must not fail for the same reason
    is_student = person is not None and person.role == STUDENT
    return {"person": person, "school": school, "is_student": is_student, "language": spoken()}


def _in_html(text: str, /, **values: object) -> Markup:
    """``text`` in the language of the moment; it may hold markup, its values are escaped."""
    said = Markup(_(text))  # noqa: S704  # nosec B704
    return said.format(**values) if values else said


def _counted_in_html(one: str, many: str, count: int, /, **values: object) -> Markup:
    return Markup(form_for(one, many, count)).format(count=count, **values)  # noqa: S704  # nosec B704


def _csrf() -> Markup:
    """The hidden field that proves a form is ours."""
    return Markup('<input type="hidden" name="csrf_token" value="{}">').format(generate_csrf())


def _moment(moment: datetime) -> Markup:
    local = here(moment, zone())
    return Markup('<time datetime="{}">{}</time>').format(local.isoformat("T", "minutes"), moment_said(moment, zone()))


def _breadth(svg: str) -> str:
    """``narrow`` for a small chart, so that its letters are no larger than those of other drawings."""
    found = re.search(r'viewBox="0 0 ([0-9.]+) ', svg)
    return "narrow" if found and float(found[1]) < HALF_WIDTH else ""


def _drawing(svg: str) -> Markup:
    """A drawing of a worker, checked element by element when it was recorded."""
    return Markup(svg)  # noqa: S704  # nosec B704
