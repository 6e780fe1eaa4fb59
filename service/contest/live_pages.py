"""The public board of a contest day and its results: aliases and numbers, never a name, and no sign-in.

Everything shown comes from the rows at each asking, so that the board goes on after a restart.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flask import Blueprint, abort, render_template, request
from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.contest.factor import class_factor
from rubric.contest.official import Result
from rubric.contest.reasons import reason_of
from rubric.drawing.agreement import ON_THE_WALL, Dot, agreement
from rubric.messages.outcomes import Figure
from service import web
from service.contest import publishing, rulebook
from service.contest.picking import Facts, pick, wanted_of
from service.contest.standings import Standings, standings
from service.records.contest_models import LOAD, LOAD_TEST, Entry, RawReading, SchoolRecord, Station
from service.records.models import Contest

pages = Blueprint("live", __name__)

SHOWN = {1: 5, 2: 5, 3: 3, 4: 2}
"""Places of each division, by how many divisions there are, that fit on a wall and are read from ten metres."""

RECORDS = 3


@dataclass(frozen=True)
class Live:
    """What the board shows at one moment."""

    found: Standings
    testing: tuple[Result, ...]
    last: Result | None
    records: tuple[SchoolRecord, ...]
    """The best of earlier contests."""
    done: int
    plot: Figure | None = None

    @property
    def divisions(self) -> list[tuple[str, list[Result]]]:
        """The first places of each division that has a result."""
        names = dict.fromkeys(result.bridge.division for result in self.found.results)
        ranked = [(name, [r for r in self.found.of(name) if r.place is not None]) for name in names]
        there = [(name, results) for name, results in ranked if results]
        fewer = 1 if len(self.testing) > 1 else 0  # two rigs at once take a row of their own
        shown = max(1, SHOWN.get(len(there), 1) - fewer)
        return [(name, results[:shown]) for name, results in there]


@pages.get("/contests/<int:contest_id>/live")
def board(contest_id: int) -> str:
    """The board for a projector."""
    contest = _contest(contest_id)
    return render_template("contest-live.html", contest=contest, live=_live(web.reading(), contest))


@pages.get("/contests/<int:contest_id>/live/now")
def now_part(contest_id: int) -> str:
    """What changes on the board, for the script to put in place."""
    contest = _contest(contest_id)
    return render_template("contest-live-now.html", contest=contest, live=_live(web.reading(), contest))


@pages.get("/contests/<int:contest_id>/results")
def results(contest_id: int) -> str:
    """The list as it was published last, with the notice of every correction."""
    contest = _contest(contest_id)
    published = publishing.publications(web.reading(), contest.id)
    if not published:
        abort(404)
    lines = published[-1].lines
    return render_template(
        "contest-results.html",
        contest=contest,
        newest=published[-1],
        picked=pick(lines, _line_facts, wanted_of(request.args)),
        divisions=list(dict.fromkeys(line["division"] for line in lines)),
        reason=reason_of,
        corrections=[one for one in published if one.notice],
        records=publishing.records(web.reading())[:20],
    )


def _line_facts(line: dict[str, Any]) -> Facts:
    """What a line of a published list is found by."""
    return Facts(line["number"], line["division"], (line["alias"],))


def _contest(contest_id: int) -> Contest:
    """A contest whose day has begun: before a station was opened there is nothing to show to the public."""
    session = web.reading()
    found = session.get(Contest, contest_id) or abort(404)
    opened = session.scalar(select(Station.id).where(Station.contest_id == contest_id).limit(1))
    return found if opened is not None else abort(404)


def _live(session: Session, contest: Contest) -> Live:
    try:
        found = standings(session, contest.id)
    except rulebook.Refusal:
        abort(404)
    by_number = {result.bridge.number: result for result in found.results}
    query = select(Station).where(
        Station.contest_id == contest.id, Station.kind == LOAD_TEST, Station.closed_at.is_(None)
    )
    testing = [by_number[s.testing] for s in session.scalars(query.order_by(Station.id)) if s.testing in by_number]
    records = [one for one in publishing.records(session) if one.contest_id != contest.id]
    done = sum(result.load_N is not None for result in found.results)
    last = _last(session, contest, by_number)
    return Live(found, tuple(testing), last, tuple(records[:RECORDS]), done, _plot(found, last))


def _plot(found: Standings, last: Result | None) -> Figure | None:
    """Predicted against measured, the bridge that was tested last drawn full."""
    tested = [r for r in found.results if r.load_N is not None and r.bridge.predicted_N]
    dots = [Dot(r.bridge.number, r.bridge.predicted_N or 0.0, r.load_N or 0.0, r is last) for r in tested]
    factor = class_factor([(dot.predicted_N, dot.measured_N) for dot in dots])
    return agreement(dots, factor, ON_THE_WALL) if dots else None


def _last(session: Session, contest: Contest, by_number: dict[int, Result]) -> Result | None:
    """The bridge that was tested last, if its reading stands."""
    undone = select(RawReading.undoes_id).where(RawReading.undoes_id.is_not(None))
    query = (
        select(Entry.number)
        .join(RawReading, RawReading.entry_id == Entry.id)
        .where(Entry.contest_id == contest.id, RawReading.kind == LOAD, RawReading.id.not_in(undone))
    )
    number = session.scalar(query.order_by(RawReading.taken_at.desc(), RawReading.id.desc()).limit(1))
    return by_number.get(number) if number is not None else None
