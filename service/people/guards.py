"""Who is signed in, and what a page demands.

Everything is closed unless it stands on the list of public pages: a new page needs a sign-in
without anybody having to think of it.  Whose objects a page may show is decided in
:mod:`service.records.queries`.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import wraps
from hmac import compare_digest
from typing import ParamSpec, TypeVar

from flask import abort, g, redirect, request, session, url_for
from sqlalchemy import delete
from werkzeug.wrappers import Response

from rubric.language import spoken
from service import web
from service.api.problems import problem
from service.people.languages import CHOSEN
from service.people.passwords import new_key
from service.people.sign_in import Welcome
from service.records.models import COORDINATOR, STUDENT, TEACHER, Person, Sketch

PUBLIC = frozenset(
    {"static", "health", "people.sign_in", "people.staff_entrance", "people.goodbye", "classes.truss_file_help"}
    | {"privacy.kept"}
    | {"live.board", "live.now_part", "live.results"}
    | {"help.rubric", "help.brief", "help.measures", "help.schema", "words.glossary"}
    | {"tasks.contents", "tasks.task"}
)
"""The pages that need no sign-in, by endpoint."""

PROGRAMS = "programs"
"""The blueprint that no session opens: each of its pages asks for a token, save the description of them all."""

IDLE_S = 2 * 3600
LONGEST_S = 12 * 3600
"""A session ends after so long without a page, or so long after signing in."""

STAFF = (TEACHER, COORDINATOR)

P = ParamSpec("P")
R = TypeVar("R")


def know() -> None:
    """Before each request that people make: find the person who asks, or nobody."""
    if request.endpoint != "static" and request.blueprint != PROGRAMS:
        g.person = _signed_in()


def let_in() -> Response | None:
    """Before each request, when it is known who asks: turn away everybody else from closed pages."""
    if "person" not in g or g.person is not None or request.endpoint is None or request.endpoint in PUBLIC:
        return None
    if request.path.startswith("/api/"):
        return problem(401, "You are not signed in", "Sign in first, then ask again.")
    return redirect(url_for("people.sign_in"))


def begin(welcome: Welcome) -> None:
    """A new session, with nothing left of the one before it."""
    session.clear()
    moment = int(time.time())
    session.update(person=welcome.person_id, key=welcome.key, since=moment, seen=moment)


def end() -> None:
    """End every session of the person: a cookie that somebody kept is worth nothing now."""
    found = web.person_or_none()
    session.clear()
    if found is not None and found.role == STUDENT:  # staff read their own, whoever sits here next
        session[CHOSEN] = spoken()
    if found is not None:
        with web.writing() as records:
            records.get_one(Person, found.id).session_key = new_key()
            records.execute(delete(Sketch).where(Sketch.student_id == found.id))


def only(*roles: str) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Refuse a page to people of other roles."""

    def guard(view: Callable[P, R]) -> Callable[P, R]:
        @wraps(view)
        def guarded(*args: P.args, **kwargs: P.kwargs) -> R:
            if web.person().role not in roles:
                abort(403)
            return view(*args, **kwargs)

        return guarded

    return guard


student_only = only(STUDENT)
staff_only = only(*STAFF)


def _signed_in() -> Person | None:
    number, key = session.get("person"), session.get("key")
    if not isinstance(number, int) or not isinstance(key, str):
        return None
    moment = int(time.time())
    found = web.reading().get(Person, number)
    stale = moment - session.get("seen", 0) > IDLE_S or moment - session.get("since", 0) > LONGEST_S
    if found is None or stale or not found.session_key or not compare_digest(found.session_key, key):
        session.clear()
        return None
    if moment - session.get("seen", 0) > 60:
        session["seen"] = moment
    return found
