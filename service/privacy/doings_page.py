"""The coordinator's page of who did what and when."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from datetime import time as clock

from flask import Blueprint, render_template, request

from service import web
from service.people.guards import only
from service.privacy.doings import KINDS, Wanted, doers, doings, what_said
from service.records.models import COORDINATOR
from service.rendering import zone
from service.saying import to_utc

pages = Blueprint("doings", __name__)


@pages.get("/staff/office/record")
@only(COORDINATOR)
def record() -> str:
    """Changes of marks, release, sign-ins, class lists, roles, deletions; with filters."""
    asked = request.args
    kind, by = asked.get("kind", ""), asked.get("by", "")
    since, until = _day(asked.get("since", "")), _day(asked.get("until", ""))
    page = int(asked["page"]) if _number(asked.get("page", "")) else 1
    wanted = Wanted(
        kind=kind if kind in KINDS else None,
        by_id=int(by) if _number(by) else None,
        since=_begin(since) if since else None,
        until=_begin(until + timedelta(days=1)) if until else None,
        page=max(page, 1),
    )
    lines, more = doings(web.reading(), wanted)
    filters = {name: asked[name] for name in ("kind", "by", "since", "until") if asked.get(name)}
    return render_template(
        "record.html",
        lines=lines,
        what_said=what_said,
        more=more,
        page=wanted.page,
        kinds=list(KINDS),
        doers=doers(web.reading()),
        wanted=wanted,
        since=since,
        until=until,
        filters=filters,
    )


def _number(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) <= 9


def _day(text: str) -> date | None:
    """A day as a browser's date field sends it; anything else is no filter."""
    try:
        found = date.fromisoformat(text)
    except ValueError:
        return None
    return found if 1970 < found.year < 9000 else None


def _begin(day: date) -> datetime:
    return to_utc(datetime.combine(day, clock.min), zone())
