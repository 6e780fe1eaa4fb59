"""Pages for what goes wrong, in the same plain style as the others; problems as JSON under /api/."""

from __future__ import annotations

import logging
from collections.abc import Sequence
from http import HTTPStatus

from flask import Flask, render_template, request
from flask_wtf.csrf import CSRFError
from sqlalchemy.exc import DBAPIError
from werkzeug.exceptions import HTTPException, MethodNotAllowed, SecurityError
from werkzeug.wrappers import Response

from rubric.language import _, later
from service import web
from service.api.problems import problem
from service.records.engine import is_disk_full

log = logging.getLogger(__name__)

WORDING = {
    400: (
        later("That did not arrive as it should"),
        later(
            "The page may have been open for too long, or in two windows. "
            "Go back, load the page again, and try once more."
        ),
    ),
    403: (
        later("This page is not for you"),
        later("You are signed in, but this page belongs to somebody with another task."),
    ),
    404: (
        later("There is no such page"),
        later("Check the address. If somebody gave it to you, it may not be meant for you."),
    ),
    405: (later("That cannot be done here"), later("Go back and use the buttons of the page.")),
    413: (
        later("That is too large"),
        later(
            "Nothing was saved. A truss file has at most 64 KB; 200 joints fit easily. "
            "Check that you chose the truss file itself and not a picture or a document."
        ),
    ),
    429: (later("Too many tries"), later("Wait a little, then try again.")),
    500: (
        later("Something broke on our side"),
        later("It is not your fault. What you handed in before is safe. Try again."),
    ),
    503: (later("Busy just now"), later("Nothing was saved. Wait a few seconds, then try again.")),
    507: (
        later("There is no room left to save"),
        later("Nothing was saved. Keep your file and tell your teacher: the school's disk is full."),
    ),
}

STALE = (
    later("That was not sent"),
    later("Nothing was saved. The page is from before somebody signed in here last, or it was open for too long."),
    (
        later("Go back. What you typed is most often still there. Copy it."),
        later("Load that page again."),
        later("Paste what you copied, and send it once more."),
    ),
)
"""For a form whose token is missing or old, from somebody who is signed in."""

SIGNED_OUT = (
    later("You are signed out"),
    later("Nothing was saved. Whoever does nothing here for two hours is signed out."),
    (
        later("Go back. What you typed is most often still there. Copy it."),
        later("Sign in, and open that page again."),
        later("Paste what you copied, and send it once more."),
    ),
)
"""The same for everybody else."""


def teach(app: Flask) -> None:
    """Register the handlers."""
    app.register_error_handler(CSRFError, _stale)
    app.register_error_handler(HTTPException, _http_fault)
    app.register_error_handler(DBAPIError, _database_fault)
    app.register_error_handler(OSError, _disk_fault)
    app.register_error_handler(Exception, _fault)


def fault_page(status: int) -> Response:
    """The page, or the JSON problem, for a status."""
    title, text = WORDING.get(status) or (HTTPStatus(status).phrase, later("Go back and try again."))
    return _page(status, title, text)


def _page(status: int, title: str, text: str, steps: Sequence[str] = (), aside: str = "") -> Response:
    title, text = _(title), _(text)
    if request.path.startswith("/api/"):
        return problem(status, title, text)
    page = render_template("fault.html", title=title, text=text, status=status, steps=steps, aside=aside)
    return Response(page, status, content_type="text/html; charset=utf-8")


def _stale(_: CSRFError) -> Response:
    """A form without the token of this session: what happened, and how nothing is lost that was typed."""
    title, text, steps = STALE if web.person_or_none() is not None else SIGNED_OUT
    return _page(400, title, text, steps, later("If it happens again, let your browser keep the cookies of this page."))


def _http_fault(error: HTTPException) -> Response:
    if error.response is not None or error.code is None or error.code < 400:
        return error.get_response()
    if isinstance(error, SecurityError):
        # Asked for under a name that is not ours: no page of ours can be addressed from here.
        return Response("This site is not known under that name.\n", error.code, content_type="text/plain")
    response = fault_page(error.code)
    if isinstance(error, MethodNotAllowed) and error.valid_methods:
        response.headers["Allow"] = ", ".join(sorted(error.valid_methods))
    return response


def _database_fault(error: DBAPIError) -> Response:
    if is_disk_full(error):
        log.error("disk full")
        return fault_page(507)
    if "database is locked" in str(error.orig):
        log.warning("database busy")
        return fault_page(503)
    return _fault(error)


def _disk_fault(error: OSError) -> Response:
    if is_disk_full(error):
        log.error("disk full")
        return fault_page(507)
    return _fault(error)


def _fault(error: Exception) -> Response:
    # The traceback may quote what somebody typed; ids and paths only go to the log's own line.
    log.error("page failed", exc_info=error, extra={"endpoint": request.endpoint})
    return fault_page(500)
