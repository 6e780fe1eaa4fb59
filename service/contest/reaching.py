"""What the pages of a contest share: finding rows by who asks, and the school's clock."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import TypeVar

from flask import abort, flash
from sqlalchemy.orm import Session

from rubric.language import _
from service import web
from service.contest.rulebook import Refusal
from service.people.guards import only
from service.records import queries
from service.records.contest_models import Entry, Station
from service.records.models import COORDINATOR, Contest, Person, now
from service.rendering import zone
from service.saying import here

T = TypeVar("T")

coordinator_only = only(COORDINATOR)


def local_now() -> datetime:
    """The present moment on the school's own clock, without its zone."""
    return here(now(), zone()).replace(tzinfo=None)


def contest_or_404(contest_id: int) -> Contest:
    """A contest that a class of the person takes part in; for a coordinator any."""
    return queries.contest(web.reading(), web.person(), contest_id) or abort(404)


def station_or_404(station_id: int) -> Station:
    """A station of such a contest."""
    found = web.reading().get(Station, station_id) or abort(404)
    contest_or_404(found.contest_id)
    return found


def entry_or_404(entry_id: int) -> Entry:
    """An entry whose attempt the person may see."""
    found = web.reading().get(Entry, entry_id) or abort(404)
    _ = queries.submission(web.reading(), web.person(), found.submission_id) or abort(404)
    return found


def done(work: Callable[[Session, Person], object], said: str) -> bool:
    """Do something in a writing session and say so, or say why it is not done."""
    try:
        with web.writing() as session:
            work(session, session.get_one(Person, web.person().id))
    except Refusal as refused:
        flash(_("Not done: {reason}", reason=refused))
        return False
    flash(said)
    return True
