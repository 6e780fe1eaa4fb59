"""What programs may do about contests that the token's class takes part in."""

from __future__ import annotations

import hashlib
import secrets

from flask import url_for
from sqlalchemy import select
from werkzeug.wrappers import Response

from rubric.problems import Refused
from service import web
from service.api import contest_shapes as shapes
from service.api import work_shapes
from service.api.answering import answer, carrying_out, moment, moment_given, page, pages, the_attempt
from service.api.asking import body_as, for_programs, key_wanted, token
from service.api.problems import Refusal
from service.contest import complaints, entering, measuring, publishing, rulebook
from service.contest.reaching import local_now
from service.contest.standings import standings
from service.records import queries
from service.records.contest_models import Entry, Protest, RawReading, Station
from service.records.models import Assignment, Contest, Submission, now


@pages.get("/contests")
@for_programs
def contests() -> Response:
    """Contests that the class takes part in."""
    found = queries.contests_of(web.reading(), token().by)
    own = _own_contests()
    items = (shapes.ContestLine(id=one.id, title=one.title) for one in found if one.id in own)
    return answer(shapes.Contests(items=tuple(items)))


@pages.get("/contests/<int:contest_id>")
@for_programs
def contest(contest_id: int) -> Response:
    """One contest with its rules."""
    return answer(_contest(_the_contest(contest_id)))


@pages.post("/contests/<int:contest_id>/rules")
@for_programs
def save_rules(contest_id: int) -> Response:
    """The next version of its rules."""
    found, new = _the_contest(contest_id), body_as(shapes.NewRules)
    try:
        with carrying_out() as (session, who):
            rulebook.save(session, session.get_one(Contest, found.id), new.rules, new.why, who.id)
    except Refused as error:
        wrong = [{"file": "rules", **vars(one)} for one in error.problems]
        raise Refusal(422, "Something in the rules is to be mended", "See 'problems'.", problems=wrong) from None
    return answer(_contest(_the_contest(contest_id)))


@pages.get("/contests/<int:contest_id>/entries")
@for_programs
def entries(contest_id: int) -> Response:
    """Bridges that take part."""
    return answer(_entries(_the_contest(contest_id)))


@pages.post("/attempts/<int:attempt_id>/entry")
@for_programs
def enter(attempt_id: int) -> Response:
    """Enter an attempt, or put it in place of one that is entered."""
    found, new = the_attempt(attempt_id), body_as(shapes.NewEntry)
    instead = _own_entry(new.in_place_of) if new.in_place_of is not None else None
    asked, local = entering.Asked(new.division, new.age, new.why), local_now()
    with carrying_out() as (session, who):
        row = session.get_one(Submission, found.id)
        if instead is None:
            number = entering.name_entry(session, who, row, asked, local).id
        else:
            number = instead.id
            entering.change_entry(session, who, session.get_one(Entry, number), row, asked, local)
    return answer(_entry(_the_entry(number)), 201)


@pages.post("/entries/<int:entry_id>/withdraw")
@for_programs
def withdraw(entry_id: int) -> Response:
    """Take a bridge of the class out."""
    found, new, local = _own_entry(entry_id), body_as(work_shapes.Reason), local_now()
    with carrying_out() as (session, who):
        entering.withdraw(session, who, session.get_one(Entry, found.id), new.why, local)
    return answer(_entry(_the_entry(entry_id)))


@pages.post("/contests/<int:contest_id>/freeze")
@for_programs
def freeze(contest_id: int) -> Response:
    """Lock the entries."""
    found = _the_contest(contest_id)
    with carrying_out() as (session, who):
        count = entering.freeze(session, found.id, who)
    return answer(shapes.Counted(entries=count))


@pages.post("/contests/<int:contest_id>/order")
@for_programs
def draw_order(contest_id: int) -> Response:
    """Draw the running order anew."""
    found = _the_contest(contest_id)
    with carrying_out() as (session, who):
        entering.draw_order(session, found.id, secrets.randbelow(10_000), who)
    return answer(_entries(_the_contest(contest_id)))


@pages.get("/contests/<int:contest_id>/stations")
@for_programs
def stations(contest_id: int) -> Response:
    """Scales and rigs."""
    query = select(Station).where(Station.contest_id == _the_contest(contest_id).id).order_by(Station.id)
    return answer(shapes.Stations(items=tuple(_station(one) for one in web.reading().scalars(query))))


@pages.post("/contests/<int:contest_id>/stations")
@for_programs
def open_station(contest_id: int) -> Response:
    """Open a station; a load test only with its whole safety list."""
    found, new = _the_contest(contest_id), body_as(shapes.NewStation)
    with carrying_out() as (session, who):
        number = measuring.open_station(session, who, found.id, new.kind, new.name, new.confirmed).id
    return answer(_station(_the_station(number)), 201)


@pages.post("/stations/<int:station_id>/call")
@for_programs
def call(station_id: int) -> Response:
    """Bring a bridge to a station."""
    found, new = _the_station(station_id), body_as(shapes.Call)
    with carrying_out() as (session, _):
        measuring.call(session, session.get_one(Station, found.id), str(new.number))
    return answer(_station(_the_station(station_id)))


@pages.post("/stations/<int:station_id>/readings")
@for_programs
def read(station_id: int) -> Response:
    """Keep a reading; the same key again gives the same row."""
    found, key = _the_station(station_id), _own_key(key_wanted())
    new = body_as(shapes.NewReading)
    typed = measuring.Typed(
        key=key,
        number=str(new.number),
        value=f"{new.value:.9g}",
        unit=new.unit,
        checked=new.checked,
        broke=new.broke,
        where=new.where,
        remark=new.remark,
        again=new.again,
        sure=new.sure,
        taken_at=min(moment_given(new.taken_at) or now(), now()),
    )
    try:
        with carrying_out() as (session, who):
            row = measuring.take(session, who, session.get_one(Station, found.id), typed)
            number = row.id
            if (row.entry.number, row.station_id, f"{float(row.values['value']):.9g}") != (
                new.number,
                found.id,
                typed.value,
            ):
                raise Refusal(422, "The key was used before", "It belongs to another reading. Choose a new key.")
    except measuring.Question as question:
        what = f"{' '.join(question.doubts)} Send it again with 'sure' to keep it all the same."
        raise Refusal(409, "The reading is out of range", what) from None
    return answer(_reading(web.reading().get_one(RawReading, number)), 201)


@pages.post("/stations/<int:station_id>/close")
@for_programs
def close_station(station_id: int) -> Response:
    """Close a station; readings it took before still arrive."""
    found = _the_station(station_id)
    with carrying_out() as (session, _):
        row = session.get_one(Station, found.id)
        row.closed_at, row.testing = row.closed_at or now(), None
    return answer(_station(_the_station(station_id)))


@pages.get("/contests/<int:contest_id>/readings")
@for_programs
def readings(contest_id: int) -> Response:
    """All readings, those that were taken back too."""
    query = select(RawReading).join(Entry, Entry.id == RawReading.entry_id)
    items, more = page(query.where(Entry.contest_id == _the_contest(contest_id).id), RawReading.id, _reading)
    return answer(shapes.Readings(items=items, next=more))


@pages.post("/readings/<int:reading_id>/undo")
@for_programs
def undo_reading(reading_id: int) -> Response:
    """Take a reading back with one row more."""
    found = web.reading().get(RawReading, reading_id)
    if found is None:
        raise Refusal(404, "No such reading", "There is no reading with this number.")
    _the_contest(found.entry.contest_id)
    key, new = _own_key(key_wanted()), body_as(work_shapes.Reason)
    with carrying_out() as (session, who):
        row = measuring.undo(session, who, session.get_one(RawReading, reading_id), key, new.why)
        number = row.id
        if row.undoes_id != reading_id:
            raise Refusal(422, "The key was used before", "It belongs to another reading. Choose a new key.")
    return answer(_reading(web.reading().get_one(RawReading, number)), 201)


@pages.get("/contests/<int:contest_id>/list")
@for_programs
def list_now(contest_id: int) -> Response:
    """The official list as it stands."""
    contest_id = _the_contest(contest_id).id
    try:
        found = standings(web.reading(), contest_id)
    except rulebook.Refusal as refused:
        raise Refusal(409, "No list yet", str(refused)) from None
    lines = tuple(publishing.lines_of(found))
    return answer(shapes.ListNow(items=lines, unconfirmed=tuple(sorted(found.unconfirmed))))


@pages.get("/contests/<int:contest_id>/lists")
@for_programs
def lists(contest_id: int) -> Response:
    """The lists that were published."""
    return answer(_lists(_the_contest(contest_id)))


@pages.post("/contests/<int:contest_id>/lists")
@for_programs
def publish(contest_id: int) -> Response:
    """Publish the list as it stands, or correct it."""
    found, new = _the_contest(contest_id), body_as(shapes.Notice)
    with carrying_out() as (session, who):
        publishing.publish(session, who, session.get_one(Contest, found.id), new.notice)
    return answer(_lists(_the_contest(contest_id)), 201, url_for("programs.lists", contest_id=contest_id))


@pages.post("/entries/<int:entry_id>/confirm")
@for_programs
def confirm(entry_id: int) -> Response:
    """A second pair of eyes on the readings of a bridge."""
    found = _the_entry(entry_id)
    with carrying_out() as (session, who):
        complaints.confirm(session, who, session.get_one(Entry, found.id))
    return answer(_entry(_the_entry(entry_id)))


@pages.post("/entries/<int:entry_id>/ruling")
@for_programs
def rule(entry_id: int) -> Response:
    """Disqualify a bridge, or lift it."""
    found, new = _the_entry(entry_id), body_as(shapes.Ruling)
    with carrying_out() as (session, who):
        complaints.rule(session, who, session.get_one(Entry, found.id), new.what, new.why)
    return answer(_entry(_the_entry(entry_id)))


@pages.get("/contests/<int:contest_id>/protests")
@for_programs
def protests(contest_id: int) -> Response:
    """Protests and answers."""
    query = select(Protest).join(Entry, Entry.id == Protest.entry_id)
    rows = web.reading().scalars(query.where(Entry.contest_id == _the_contest(contest_id).id).order_by(Protest.id))
    return answer(shapes.Protests(items=tuple(_protest(one) for one in rows)))


@pages.post("/entries/<int:entry_id>/protests")
@for_programs
def protest(entry_id: int) -> Response:
    """Note a protest about a bridge of the class."""
    found, new = _own_entry(entry_id), body_as(shapes.NewProtest)
    with carrying_out() as (session, who):
        number = complaints.protest(session, who, session.get_one(Entry, found.id), new.text).id
    return answer(_protest(web.reading().get_one(Protest, number)), 201)


@pages.post("/protests/<int:protest_id>/answer")
@for_programs
def answer_protest(protest_id: int) -> Response:
    """Answer a protest."""
    found = web.reading().get(Protest, protest_id)
    if found is None:
        raise Refusal(404, "No such protest", "There is no protest with this number.")
    _the_contest(found.entry.contest_id)
    new = body_as(shapes.NewProtest)
    with carrying_out() as (session, who):
        complaints.answer(who, session.get_one(Protest, protest_id), new.text)
    return answer(_protest(web.reading().get_one(Protest, protest_id)))


def _own_key(key: str) -> str:
    """A key of the table of readings, so that programs with the same keys do not meet."""
    return hashlib.sha256(f"{token().id} {key}".encode()).hexdigest()


def _own_contests() -> set[int]:
    wanted = select(Assignment.contest_id).where(Assignment.class_id == token().class_id)
    return {number for number in web.reading().scalars(wanted) if number is not None}


def _the_contest(contest_id: int) -> Contest:
    found = web.reading().get(Contest, contest_id)
    if found is None or found.id not in _own_contests():
        raise Refusal(404, "No such contest", "The token's class takes part in no contest with this number.")
    return found


def _the_entry(entry_id: int) -> Entry:
    """A bridge of a contest of the class."""
    found = web.reading().get(Entry, entry_id)
    if found is None or found.contest_id not in _own_contests():
        raise Refusal(404, "No such entry", "There is no entry with this number in a contest of the token's class.")
    return found


def _own_entry(entry_id: int) -> Entry:
    """A bridge of the class itself."""
    found = _the_entry(entry_id)
    if found.submission.assignment.class_id != token().class_id:
        raise Refusal(404, "No such entry", "The token's class has no entry with this number.")
    return found


def _the_station(station_id: int) -> Station:
    found = web.reading().get(Station, station_id)
    if found is None or found.contest_id not in _own_contests():
        raise Refusal(404, "No such station", "There is no station with this number in a contest of the class.")
    return found


def _contest(found: Contest) -> shapes.Contest:
    session = web.reading()
    kept = rulebook.newest(session, found.id)
    rules = rulebook.rules_of(kept) if kept else None
    return shapes.Contest(
        id=found.id,
        title=found.title,
        rules=kept.text if kept else None,
        rules_version=kept.number if kept else 0,
        locked=rules is not None and entering.is_locked(session, rules, found.id, local_now()),
        lists=len(publishing.publications(session, found.id)),
        safety=measuring.safety_list(rules) if rules else (),
    )


def _entries(found: Contest) -> shapes.Entries:
    return shapes.Entries(items=tuple(_entry(one) for one in entering.entered(web.reading(), found.id)))


def _entry(one: Entry) -> shapes.Entry:
    own = one.submission.assignment.class_id == token().class_id
    return shapes.Entry(
        id=one.id,
        number=one.number,
        alias=one.student.alias,
        division=one.division,
        running=one.running,
        frozen=one.frozen_at is not None,
        withdrawn=one.withdrawn_at is not None,
        student_id=one.student_id if own else None,
        attempt_id=one.submission_id if own else None,
    )


def _station(one: Station) -> shapes.Station:
    opened = one.closed_at is None
    return shapes.Station(id=one.id, kind=one.kind, name=one.name, open=opened, testing=one.testing)


def _reading(row: RawReading) -> shapes.Reading:
    value = row.values.get("value")
    return shapes.Reading(
        id=row.id,
        station_id=row.station_id,
        number=row.entry.number,
        kind=row.kind,
        value=None if value is None else float(value),
        unit=str(row.values.get("unit", "")),
        flagged=row.flagged,
        undoes_id=row.undoes_id,
        why=row.why,
        taken_at=moment(row.taken_at) or "",
    )


def _lists(found: Contest) -> shapes.PublishedLists:
    kept = publishing.publications(web.reading(), found.id)
    items = (
        shapes.PublishedList(number=one.number, at=moment(one.at) or "", notice=one.notice, items=tuple(one.lines))
        for one in kept
    )
    return shapes.PublishedLists(items=tuple(items))


def _protest(one: Protest) -> shapes.Protest:
    return shapes.Protest(id=one.id, number=one.entry.number, text=one.text, answer=one.answer)
