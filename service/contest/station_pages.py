"""The weigh-in and the load-test station: ten seconds an entry, by keyboard or phone, with or without a script.

The script keeps what was typed in the browser while the network is away and sends it when it is back, by the same
address as the form; every reading carries a key, so that it counts once.
"""

from __future__ import annotations

import uuid
from datetime import UTC, datetime, timedelta
from importlib.resources import files
from typing import Any

from flask import Blueprint, Response, abort, flash, jsonify, redirect, render_template, request, url_for
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response as Redirect

from rubric.contest.breaking import WAYS, joints_of
from rubric.contest.official import result_said
from rubric.contest.rules import ContestRules
from rubric.language import _
from rubric.wording import localised
from service import web
from service.contest import entering, measuring, rulebook
from service.contest.measuring import Question, Taken, Typed
from service.contest.reaching import contest_or_404, done, local_now, station_or_404
from service.contest.standings import broke, standings
from service.people.guards import staff_only
from service.records.contest_models import LOAD, LOAD_TEST, STATIONS, UNDO, Entry, RawReading, Station
from service.records.models import Contest, Person, now
from service.saying import ordinal

pages = Blueprint("stations", __name__)

LAST = 8
"""Readings that a station shows."""

OLDEST = timedelta(days=2)
"""A reading that says it was taken earlier has a clock that is wrong."""


@pages.get("/staff/contests/<int:contest_id>/stations")
@staff_only
def stations(contest_id: int) -> str:
    """The stations of a contest, and how to open one."""
    return _stations_page(contest_or_404(contest_id))


@pages.post("/staff/contests/<int:contest_id>/stations")
@staff_only
def open_station(contest_id: int) -> Redirect | tuple[str, int]:
    """Open a station; a load test only with its whole safety list."""
    contest = contest_or_404(contest_id)
    kind, name = request.form.get("kind", ""), request.form.get("name", "")
    try:
        with web.writing() as session:
            by = session.get_one(Person, web.person().id)
            ticked = request.form.getlist("safe")
            number = measuring.open_station(session, by, contest.id, kind, name, ticked).id
    except rulebook.Refusal as refused:
        return _stations_page(contest, str(refused)), 422
    return redirect(url_for("stations.station", station_id=number), 303)


@pages.get("/staff/stations/<int:station_id>")
@staff_only
def station(station_id: int) -> str:
    """The page that stays open all day; ``?number=`` brings a bridge to it."""
    found = station_or_404(station_id)
    if request.args.get("away"):  # the copy that a browser keeps: nobody is named on it
        return _page(found, "", person=None, away=True)
    return _page(found, request.args.get("number", ""))


@pages.get("/staff/stations/away.js")
@staff_only
def away() -> Response:
    """The script that answers in place of the network; from this address it may do so for stations alone."""
    text = (files("service") / "static" / "stations-away.js").read_text("utf-8")
    return Response(text, content_type="text/javascript; charset=utf-8")


@pages.post("/staff/stations/<int:station_id>/call")
@staff_only
def call(station_id: int) -> Redirect | Response:
    """Bring a bridge to the station; the board shows it."""
    found = station_or_404(station_id)
    number = request.form.get("number", "")
    try:
        with web.writing() as session:
            entry = measuring.call(session, session.get_one(Station, found.id), number)
            called = entry.number
    except rulebook.Refusal as refused:
        if _by_script():
            return _answer(404, str(refused))
        flash(_("Not done: {reason}", reason=refused))
        return redirect(url_for("stations.station", station_id=found.id), 303)
    if _by_script():
        return _answer(200, _("Number {number} lies here now.", number=called))
    return redirect(url_for("stations.station", station_id=found.id, number=called), 303)


@pages.post("/staff/stations/<int:station_id>/readings")
@staff_only
def read(station_id: int) -> Redirect | Response | tuple[str, int]:
    """Keep a reading, ask about it once, or say why it is not kept."""
    found = station_or_404(station_id)
    typed = _typed()
    try:
        with web.writing() as session:
            by = session.get_one(Person, web.person().id)
            row = measuring.take(session, by, session.get_one(Station, found.id), typed)
            said = _kept_said(session, row)
    except Question as question:
        if _by_script():
            return _answer(422, " ".join(question.doubts), ask=True)
        return _page(found, typed.number, doubts=question.doubts), 422
    except rulebook.Refusal as refused:
        if _by_script():
            return _answer(409, str(refused), taken=isinstance(refused, Taken))
        return _page(found, typed.number, problem=str(refused)), 422
    if _by_script():
        return _answer(200, said)
    flash(said)
    return redirect(url_for("stations.station", station_id=found.id), 303)


@pages.get("/staff/stations/<int:station_id>/last")
@staff_only
def last(station_id: int) -> str:
    """The last readings and who comes next, for the script to put in place."""
    found, session = station_or_404(station_id), web.reading()
    next_up = _next_up(session, found, entering.entered(session, found.contest_id))
    return render_template("contest-station-last.html", station=found, next_up=next_up, **_last(session, found))


@pages.post("/staff/readings/<int:reading_id>/undo")
@staff_only
def undo(reading_id: int) -> Redirect:
    """Take a reading back, with a reason."""
    row = web.reading().get(RawReading, reading_id) or abort(404)
    found = station_or_404(row.station_id)
    key, why = request.form.get("key", "") or uuid.uuid4().hex, request.form.get("why", "")
    done(
        lambda session, who: measuring.undo(session, who, session.get_one(RawReading, row.id), key[:64], why),
        _("The reading of number {number} is taken back. Type it again.", number=row.entry.number),
    )
    return redirect(url_for("stations.station", station_id=found.id), 303)


@pages.post("/staff/stations/<int:station_id>/close")
@staff_only
def close(station_id: int) -> Redirect:
    """Close a station; readings it took before still arrive."""
    found = station_or_404(station_id)

    def work(session: Session, __: Person) -> None:
        row = session.get_one(Station, found.id)
        row.closed_at, row.testing = row.closed_at or now(), None

    done(work, _("{station} is closed.", station=found.name))
    return redirect(url_for("stations.stations", contest_id=found.contest_id), 303)


@pages.get("/staff/contests/<int:contest_id>/bridges/<int:number>")
@staff_only
def bridge(contest_id: int, number: int) -> str:
    """A bridge whose label was scanned by a phone: where it can be put."""
    contest, session = contest_or_404(contest_id), web.reading()
    try:
        entry = measuring.find_entry(session, contest.id, str(number))
    except rulebook.Refusal:
        abort(404)
    rows = measuring.readings_of(session, [entry.id])[entry.id]
    return render_template(
        "contest-bridge.html", contest=contest, entry=entry, rows=rows, stations=_open(session, contest.id), broke=broke
    )


def _typed() -> Typed:
    form = request.form
    return Typed(
        key=form.get("key", ""),
        number=form.get("number", ""),
        value=form.get("value", ""),
        unit=form.get("unit", ""),
        checked=tuple(form.getlist("check")),
        broke=form.get("broke", ""),
        how=form.get("how", ""),
        where=form.get("where", ""),
        remark=form.get("remark", ""),
        again=form.get("again", ""),
        sure=form.get("sure") == "yes",
        taken_at=_taken_at(form.get("taken at", "")),
    )


def _taken_at(text: str) -> datetime:
    """A moment by the clock of the browser, in UTC; the present where it is none or far off."""
    try:
        moment = datetime.fromisoformat(text.replace("Z", "+00:00"))
    except ValueError:
        return now()
    plain = moment.astimezone(UTC).replace(tzinfo=None) if moment.tzinfo else moment
    return plain if now() - OLDEST < plain <= now() else now()


def _by_script() -> bool:
    return request.headers.get("Accept") == "application/json"


def _answer(status: int, said: str, **more: bool) -> Response:
    answer = jsonify(said=said, **more)
    answer.status_code = status
    return answer


def _kept_said(session: Session, row: RawReading) -> str:
    """What was kept, and whether a second person has to look at it."""
    found = standings(session, row.entry.contest_id)
    number = row.entry.number
    result = next((r for r in found.results if r.bridge.number == number), None)
    if result is None or row.kind != LOAD or result.load_N is None or result.efficiency is None:
        read = localised(f"{row.values['value']:g} {row.values['unit']}")
        return _("Kept: number {number}, {reading}.", number=number, reading=read)
    said = _("Kept: number {number}, {reading}.", number=number, reading=result_said(result))
    if number in found.unconfirmed and result.place is not None:
        said += " " + _(
            "That is {place} in {division} now: have a second person look at it.",
            place=ordinal(result.place),
            division=result.bridge.division,
        )
    return said


def _open(session: Session, contest_id: int) -> list[Station]:
    query = select(Station).where(Station.contest_id == contest_id, Station.closed_at.is_(None))
    return list(session.scalars(query.order_by(Station.id)))


def _last(session: Session, found: Station) -> dict[str, Any]:
    query = select(RawReading).where(RawReading.station_id == found.id).order_by(RawReading.id.desc())
    rows = list(session.scalars(query.limit(LAST)))
    undone = set(session.scalars(select(RawReading.undoes_id).where(RawReading.undoes_id.in_([r.id for r in rows]))))
    rules = measuring.rules_by_id(session, found.contest_id)
    flags = {row.id: measuring.flag_said(row, rules[row.rules_id]) for row in rows}
    return {"rows": rows, "undone": undone, "UNDO": UNDO, "broke": broke, "flags": flags}


def _stations_page(contest: Contest, problem: str = "") -> str:
    session = web.reading()
    version = rulebook.newest(session, contest.id)
    rules = rulebook.rules_of(version) if version else None
    query = select(Station).where(Station.contest_id == contest.id).order_by(Station.id)
    return render_template(
        "contest-stations.html",
        contest=contest,
        rules=rules,
        kinds=STATIONS,
        safety=measuring.safety_list(rules) if rules else (),
        doubts=rules.rig.doubts(local_now()) if rules else (),
        stations=list(session.scalars(query)),
        problem=problem,
        typed=request.form,
    )


def _page(found: Station, number: str, problem: str = "", doubts: tuple[str, ...] = (), **more: Any) -> str:
    session = web.reading()
    rules = rulebook.in_force(session, found.contest_id)[1]
    entries = entering.entered(session, found.contest_id)
    entry = _called(session, found, number) if number else None
    return render_template(
        "contest-station.html",
        station=found,
        contest=found.contest,
        rules=rules,
        load_test=found.kind == LOAD_TEST,
        ways=WAYS,
        joints=joints_of(entry.predicted.get("members", ())) if entry else [],
        units=_units(rules),
        entries=entries,
        entry=entry,
        drawing=_drawing(entry) if entry and found.kind == LOAD_TEST else None,
        number=entry.number if entry else number,
        next_up=_next_up(session, found, entries),
        key=request.form.get("key", "") if problem or doubts else uuid.uuid4().hex,
        typed=request.form,
        problem=problem,
        doubts=doubts,
        confirmed=measuring.safety_confirmed(found),
        rig_doubts=rules.rig.doubts(local_now()) if found.kind == LOAD_TEST else (),
        **_last(session, found),
        **more,
    )


def _called(session: Session, found: Station, number: str) -> Entry | None:
    try:
        return measuring.find_entry(session, found.contest_id, number)
    except rulebook.Refusal:
        return None


def _drawing(entry: Entry) -> dict[str, Any] | None:
    drawn: dict[str, Any] | None = (entry.submission.outcome or {}).get("drawing")
    return drawn


def _units(rules: ContestRules) -> list[str]:
    own = rules.rig.unit
    return [own, *(unit for unit in measuring.UNITS if unit != own)]


def _next_up(session: Session, found: Station, entries: list[Entry]) -> list[Entry]:
    """The next bridges of the running order that have no reading of this kind."""
    kind = LOAD if found.kind == LOAD_TEST else "mass"
    rows = measuring.readings_of(session, [entry.id for entry in entries])
    undone = {row.undoes_id for each in rows.values() for row in each}
    waits = [e for e in entries if not any(r.kind == kind and r.id not in undone for r in rows[e.id])]
    return sorted(waits, key=lambda entry: (entry.running or 10**6, entry.number))[:3]
