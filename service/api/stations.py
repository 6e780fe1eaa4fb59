"""What programs may do at stations: open and close them, call bridges, keep readings and take them back."""

from __future__ import annotations

import hashlib

from sqlalchemy import select
from werkzeug.wrappers import Response

from service import web
from service.api import contest_shapes as shapes
from service.api import work_shapes
from service.api.answering import answer, carrying_out, moment, moment_given, page, pages
from service.api.asking import body_as, for_programs, key_wanted, token
from service.api.contest_rows import the_contest, the_station
from service.api.problems import Refusal
from service.contest import measuring
from service.records.contest_models import Entry, RawReading, Station
from service.records.models import now


@pages.get("/contests/<int:contest_id>/stations")
@for_programs
def stations(contest_id: int) -> Response:
    """Scales and rigs."""
    query = select(Station).where(Station.contest_id == the_contest(contest_id).id).order_by(Station.id)
    return answer(shapes.Stations(items=tuple(_station(one) for one in web.reading().scalars(query))))


@pages.post("/contests/<int:contest_id>/stations")
@for_programs
def open_station(contest_id: int) -> Response:
    """Open a station; a load test only with its whole safety list."""
    found, new = the_contest(contest_id), body_as(shapes.NewStation)
    with carrying_out() as (session, who):
        number = measuring.open_station(session, who, found.id, new.kind, new.name, new.confirmed).id
    return answer(_station(the_station(number)), 201)


@pages.post("/stations/<int:station_id>/call")
@for_programs
def call(station_id: int) -> Response:
    """Bring a bridge to a station."""
    found, new = the_station(station_id), body_as(shapes.Call)
    with carrying_out() as (session, _):
        measuring.call(session, session.get_one(Station, found.id), str(new.number))
    return answer(_station(the_station(station_id)))


@pages.post("/stations/<int:station_id>/readings")
@for_programs
def read(station_id: int) -> Response:
    """Keep a reading; the same key again gives the same row."""
    found, key = the_station(station_id), _own_key(key_wanted())
    new = body_as(shapes.NewReading)
    typed = measuring.Typed(
        key=key,
        number=str(new.number),
        value=f"{new.value:.9g}",
        unit=new.unit,
        checked=new.checked,
        broke=new.broke,
        how=new.how,
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
    found = the_station(station_id)
    with carrying_out() as (session, _):
        row = session.get_one(Station, found.id)
        row.closed_at, row.testing = row.closed_at or now(), None
    return answer(_station(the_station(station_id)))


@pages.get("/contests/<int:contest_id>/readings")
@for_programs
def readings(contest_id: int) -> Response:
    """All readings, those that were taken back too."""
    query = select(RawReading).join(Entry, Entry.id == RawReading.entry_id)
    items, more = page(query.where(Entry.contest_id == the_contest(contest_id).id), RawReading.id, _reading)
    return answer(shapes.Readings(items=items, next=more))


@pages.post("/readings/<int:reading_id>/undo")
@for_programs
def undo_reading(reading_id: int) -> Response:
    """Take a reading back with one row more."""
    found = web.reading().get(RawReading, reading_id)
    if found is None:
        raise Refusal(404, "No such reading", "There is no reading with this number.")
    the_contest(found.entry.contest_id)
    key, new = _own_key(key_wanted()), body_as(work_shapes.Reason)
    with carrying_out() as (session, who):
        row = measuring.undo(session, who, session.get_one(RawReading, reading_id), key, new.why)
        number = row.id
        if row.undoes_id != reading_id:
            raise Refusal(422, "The key was used before", "It belongs to another reading. Choose a new key.")
    return answer(_reading(web.reading().get_one(RawReading, number)), 201)


def _own_key(key: str) -> str:
    """A key of the table of readings, so that programs with the same keys do not meet."""
    return hashlib.sha256(f"{token().id} {key}".encode()).hexdigest()


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
        broke=str(row.values.get("broke", "")),
        how=str(row.values.get("how", "")),
        flagged=row.flagged,
        undoes_id=row.undoes_id,
        why=row.why,
        taken_at=moment(row.taken_at) or "",
    )
