"""What a contest gives out: the list as CSV, everything as JSON, and prediction beside measurement."""

from __future__ import annotations

import json
from typing import Any

from flask import Blueprint, Response, abort, render_template
from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.contest.rules import ContestRules
from rubric.tables import table_for_people
from service import web
from service.contest import complaints, entering, measuring, publishing, rulebook
from service.contest.lesson import BROKE_BY, lesson
from service.contest.reaching import contest_or_404
from service.contest.standings import Broke, Standings, broke_last, standings
from service.people.guards import staff_only
from service.records.contest_models import Entry, EntryChange, RawReading, RulesVersion, Ruling, Station
from service.records.models import Contest
from service.saying import file_word

pages = Blueprint("contest_files", __name__)


@pages.get("/staff/contests/<int:contest_id>/list.csv")
@staff_only
def as_csv(contest_id: int) -> Response:
    """The list as it stands, for a spreadsheet; aliases alone."""
    contest = contest_or_404(contest_id)
    return _file(table_of(_standings(contest)), "text/csv; charset=utf-8", contest, "csv")


@pages.get("/staff/contests/<int:contest_id>/contest.json")
@staff_only
def everything(contest_id: int) -> Response:
    """Rules, entries, stations, every reading, rulings, protests and lists; aliases alone."""
    contest = contest_or_404(contest_id)
    text = json.dumps(everything_of(web.reading(), contest), ensure_ascii=False, indent=1, default=str)
    return _file(text.encode(), "application/json", contest, "json")


@pages.get("/staff/contests/<int:contest_id>/compared")
@staff_only
def compared(contest_id: int) -> str:
    """Prediction and measurement: the plot, the factor of all, and what the next brief might use; a lesson sheet."""
    contest = contest_or_404(contest_id)
    return render_template(
        "contest-compared.html", contest=contest, lesson=lesson(_standings(contest)), broke_by=BROKE_BY
    )


def _standings(contest: Contest) -> Standings:
    try:
        return standings(web.reading(), contest.id)
    except rulebook.Refusal:
        abort(404)


def table_of(found: Standings) -> bytes:
    """The list as CSV, with what was noted of each break."""
    lines = [{**line, **_broke(found, line["number"])} for line in publishing.lines_of(found)]
    headings = [name for name in lines[0] if name != "reason"] if lines else ["number"]
    return table_for_people([headings, *([line[name] for name in headings] for line in lines)])


def _broke(found: Standings, number: int) -> dict[str, str]:
    """Where and how a bridge broke, in the words that are kept."""
    noted = broke_last(found.entries[number], found.rows) or Broke()
    return {"broke at": noted.where, "how it broke": noted.how}


def everything_of(session: Session, contest: Contest) -> dict[str, Any]:
    """All that a contest keeps, by kind; aliases alone."""
    entries = list(session.scalars(select(Entry).where(Entry.contest_id == contest.id).order_by(Entry.number)))
    numbers = {entry.id: entry.number for entry in entries}
    ids = list(numbers)
    rules = measuring.rules_by_id(session, contest.id)
    versions = session.scalars(select(RulesVersion).where(RulesVersion.contest_id == contest.id))
    stations = session.scalars(select(Station).where(Station.contest_id == contest.id))
    changes = session.scalars(select(EntryChange).where(EntryChange.entry_id.in_(ids)).order_by(EntryChange.id))
    rulings = session.scalars(select(Ruling).where(Ruling.entry_id.in_(ids)).order_by(Ruling.id))
    return {
        "contest": contest.title,
        "rules": [_plain(one, "number", "rules", "why", "made_at") for one in versions],
        "entries": [_entry(one) for one in entries],
        "late changes": [_about(one, numbers, "at", "what", "before", "after", "why") for one in changes],
        "stations": [_plain(one, "id", "kind", "name", "opened_at", "confirmed", "closed_at") for one in stations],
        "readings": [
            _reading(row, numbers, rules) for rows in measuring.readings_of(session, ids).values() for row in rows
        ],
        "rulings": [_about(one, numbers, "at", "what", "why") for one in rulings],
        "protests": [
            _about(one, numbers, "at", "text", "answer", "answered_at") for one in complaints.protests(session, ids)
        ],
        "lists": [
            _plain(one, "number", "at", "notice", "lines") for one in publishing.publications(session, contest.id)
        ],
    }


def _entry(one: Entry) -> dict[str, Any]:
    kept = _plain(one, "number", "division", "running", "named_at", "frozen_at", "withdrawn_at", "predicted")
    return {"alias": one.student.alias, "attempt": entering.attempt_said(one.submission), **kept}


def _reading(row: RawReading, numbers: dict[int, int], rules: dict[int, ContestRules]) -> dict[str, Any]:
    names = ("id", "kind", "values", "flagged", "undoes_id", "why", "taken_at", "at", "station_id")
    return {**_about(row, numbers, *names), "means": measuring.meant(row, rules[row.rules_id]).value}


def _about(row: Any, numbers: dict[int, int], *names: str) -> dict[str, Any]:
    return {"bridge": numbers[row.entry_id], **_plain(row, *names)}


def _plain(row: object, *names: str) -> dict[str, Any]:
    return {name.replace("_", " "): getattr(row, name) for name in names}


def _file(data: bytes, kind: str, contest: Contest, ending: str) -> Response:
    name = f"contest-{file_word(contest.title, str(contest.id))}.{ending}"
    return Response(data, content_type=kind, headers={"Content-Disposition": f'attachment; filename="{name}"'})
