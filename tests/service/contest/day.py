"""A contest day at the invented school: three bridges, two stations, two of the staff."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from datetime import datetime
from typing import TypeVar

from sqlalchemy.orm import Session

from service.contest import rulebook
from service.contest.entering import Asked, name_entry
from service.contest.measuring import Typed, open_station, safety_list, take
from service.records.contest_models import LOAD_TEST, WEIGH_IN, Entry, RawReading, Station
from service.records.models import Contest, Person, Submission
from tests.service.site import Site

T = TypeVar("T")

RULES = """\
title: Spring bridges
dates: {opens: 2027-03-01, freeze: 2027-03-20, day: 2027-03-24}
entry: [{measure: mechanisms, at most: 0}]
weigh in: {mass: 90 g, checks: [The span is free]}
retest: {most: 1}
rig: {unit: kg, tare: 0.5, most: 400 N}
"""
BEFORE, AFTER = datetime(2027, 3, 10, 9), datetime(2027, 3, 21, 9)
PUPILS = ("Ada Fern", "Ben Holt", "Cleo Marsh")


def begin(site: Site, rules: str = RULES) -> list[int]:
    """Rules, and an attempt of each pupil that is marked; the submissions."""
    site.sender.sent.clear()  # no envelope is drawn: it takes a second and nothing here shows it
    with site.records.write() as session:
        rulebook.save(session, session.get_one(Contest, site.contest), rules, "", None)
    for name in PUPILS:
        client = site.signed_in(name)
        site.hand_in(client, assignment=site.assignment if name != "Cleo Marsh" else site.other_assignment)
    site.work()
    with site.records.read() as session:
        return [row.id for row in session.query(Submission).order_by(Submission.id)]


def enter(site: Site, submissions: list[int], by: str = "Cora Vale", local: datetime = BEFORE) -> list[int]:
    """Enter attempts; the rows of the entries."""
    with site.records.write() as session:
        person = session.get_one(Person, site.ids[by])
        rows = [session.get_one(Submission, one) for one in submissions]
        return [name_entry(session, person, row, Asked(), local).id for row in rows]


def stations(site: Site, by: str = "Cora Vale") -> tuple[int, int]:
    """A weigh-in and a load test, both open."""
    with site.records.write() as session:
        person = session.get_one(Person, site.ids[by])
        _, rules = rulebook.in_force(session, site.contest)
        scale = open_station(session, person, site.contest, WEIGH_IN, "Table", [])
        rig = open_station(session, person, site.contest, LOAD_TEST, "Rig", safety_list(rules))
        return scale.id, rig.id


def typed(number: int, value: str, sure: bool = True, **more: str) -> Typed:
    """A reading with everything ticked."""
    key = more.pop("key", uuid.uuid4().hex)
    return Typed(key=key, number=str(number), value=value, checked=("The span is free",), sure=sure, **more)


def read(site: Site, station: int, reading: Typed, by: str = "Cora Vale") -> int:
    """Keep a reading; its row."""
    with site.records.write() as session:
        return take(session, session.get_one(Person, site.ids[by]), session.get_one(Station, station), reading).id


def in_session(site: Site, work: Callable[[Session, Person], T], by: str = "Cora Vale") -> T:
    """Do something in a writing session as one of the staff."""
    with site.records.write() as session:
        return work(session, session.get_one(Person, site.ids[by]))


def rows(site: Site) -> list[RawReading]:
    """All raw readings."""
    with site.records.read() as session:
        return session.query(RawReading).order_by(RawReading.id).all()


def entries(site: Site) -> list[Entry]:
    """All entries by number."""
    with site.records.read() as session:
        return session.query(Entry).order_by(Entry.number).all()
