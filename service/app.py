"""The web application: plain pages rendered here, one style sheet, one small script."""

from __future__ import annotations

from datetime import timedelta

from flask import Flask, Response, request
from flask_wtf import CSRFProtect
from sqlalchemy import text
from werkzeug.middleware.proxy_fix import ProxyFix
from werkzeug.routing import IntegerConverter

from service import faults, web
from service.api import (
    answering,
    class_desk,
    class_reports,
    contest_papers,
    contests,
    data,
    lessons,
    likeness,
    marking,
    papers,
    programs,
    school,
    second,
    state,
    stations,
    token_pages,
    work,
)
from service.api.tokens import Rate
from service.classes import (
    alike,
    attempts,
    calendar_pages,
    comparing_page,
    desk,
    for_students,
    handing_on,
    insight_desk,
    looking,
    marks_desk,
    plans,
    reports,
    second_desk,
    set_pages,
    teaching,
    version_pages,
    writing,
)
from service.contest import award_pages, desk_pages, entry_pages, file_pages, live_pages, rules_pages, station_pages
from service.contest import pages as contest
from service.help import pages as helping
from service.help import task_pages, words
from service.people import class_pages, guards, languages, office
from service.people import pages as people
from service.people import roster_pages as rosters
from service.privacy import doings_page
from service.privacy import pages as privacy
from service.records.engine import open_records
from service.rendering import teach_templates
from service.sending import Sending
from service.settings import Settings

CONTENT_POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; worker-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)

BLUEPRINTS = (
    people.pages,
    rosters.pages,
    privacy.pages,
    doings_page.pages,
    class_pages.pages,
    office.pages,
    desk.pages,
    looking.pages,
    attempts.pages,
    comparing_page.pages,
    plans.pages,
    teaching.pages,
    set_pages.pages,
    calendar_pages.pages,
    for_students.pages,
    handing_on.pages,
    reports.pages,
    marks_desk.pages,
    second_desk.pages,
    alike.pages,
    insight_desk.pages,
    contest.pages,
    desk_pages.pages,
    rules_pages.pages,
    entry_pages.pages,
    station_pages.pages,
    live_pages.pages,
    file_pages.pages,
    award_pages.pages,
    state.pages,
    answering.pages,
    token_pages.pages,
    helping.pages,
    task_pages.pages,
    words.pages,
    writing.pages,
    version_pages.pages,
)


FOR_PROGRAMS = (
    *(programs, marking, work, second, likeness, papers, lessons, class_reports),
    *(contests, stations, contest_papers),
    *(class_desk, school, data),
)
"""The modules whose views stand in one blueprint, :data:`service.api.answering.pages`."""


class RowNumber(IntegerConverter):
    """A number in an address, as long as the tables' own: a longer one is no page."""

    regex = r"\d{1,9}"


def create_app(settings: Settings, sender: web.Sender | None = None) -> Flask:
    """The application for these settings; opens the database, which must be migrated.

    Parameters
    ----------
    sender
        What carries orders to the workers; by default the broker of the settings.
    """
    app = Flask(__name__)
    app.url_map.converters["int"] = RowNumber
    app.config.update(
        SECRET_KEY=settings.secret_key,
        # One file of 64 KB, or its text, and room for the form around it.
        MAX_CONTENT_LENGTH=256 * 1024,
        MAX_FORM_MEMORY_SIZE=128 * 1024,
        MAX_FORM_PARTS=20,
        SESSION_COOKIE_NAME="kingpost",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        SESSION_COOKIE_SECURE=settings.secure_cookies,
        PERMANENT_SESSION_LIFETIME=timedelta(seconds=guards.LONGEST_S),
        TRUSTED_HOSTS=list(settings.trusted_hosts) or None,
        # The token lives as long as the session: a page left open over lunch can still be sent.
        WTF_CSRF_TIME_LIMIT=None,
        # Pages give no referrer at all; the token and SameSite do this work.
        WTF_CSRF_SSL_STRICT=False,
    )
    records = open_records(settings.database)
    app.extensions["kingpost"] = records
    app.extensions["kingpost.sender"] = sender or Sending(records, settings.broker)
    if settings.proxy_hops:
        hops = settings.proxy_hops
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=hops, x_proto=hops, x_host=hops)  # type: ignore[method-assign]
    app.extensions["kingpost.rate"] = Rate()
    app.before_request(guards.know)
    app.before_request(languages.choose)
    # After these, so that a refusal is said to whoever asks in their language; a program sends its token itself, with
    # each request: no other site can have a browser do that.
    CSRFProtect(app).exempt(answering.pages)
    app.before_request(guards.let_in)
    app.after_request(_guard_response)
    app.teardown_appcontext(web.close_reading)
    app.teardown_request(languages.forget)
    for blueprint in BLUEPRINTS:
        app.register_blueprint(blueprint)
    app.add_url_rule("/health", "health", _health)
    faults.teach(app)
    teach_templates(app)
    return app


def _health() -> Response:
    web.reading().execute(text("SELECT 1"))
    return Response("ok\n", content_type="text/plain")


def _guard_response(response: Response) -> Response:
    response.headers["Content-Security-Policy"] = CONTENT_POLICY
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["Cross-Origin-Opener-Policy"] = "same-origin"
    # What one person saw must not come back to the next one at the same computer.
    # A file that is sent says 'no-cache' by itself, with which a browser may still keep it.
    if request.endpoint != "static" and not response.cache_control.public:
        response.headers["Cache-Control"] = "no-store"
    return response
