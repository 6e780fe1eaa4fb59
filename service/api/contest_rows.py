"""Rows of contests, found within those that the token's class takes part in, and as programs read them."""

from __future__ import annotations

from sqlalchemy import select

from service import web
from service.api import contest_shapes as shapes
from service.api.asking import token
from service.api.problems import Refusal
from service.contest import entering, measuring, publishing, rulebook
from service.contest.reaching import local_now
from service.contest.standings import Standings, standings
from service.records.contest_models import Entry, Station
from service.records.models import Assignment, Contest


def own_contests() -> set[int]:
    """The contests that the token's class takes part in."""
    wanted = select(Assignment.contest_id).where(Assignment.class_id == token().class_id)
    return {number for number in web.reading().scalars(wanted) if number is not None}


def the_contest(contest_id: int) -> Contest:
    """Such a contest."""
    found = web.reading().get(Contest, contest_id)
    if found is None or found.id not in own_contests():
        raise Refusal(404, "No such contest", "The token's class takes part in no contest with this number.")
    return found


def the_entry(entry_id: int) -> Entry:
    """A bridge of a contest of the class."""
    found = web.reading().get(Entry, entry_id)
    if found is None or found.contest_id not in own_contests():
        raise Refusal(404, "No such entry", "There is no entry with this number in a contest of the token's class.")
    return found


def own_entry(entry_id: int) -> Entry:
    """A bridge of the class itself."""
    found = the_entry(entry_id)
    if found.submission.assignment.class_id != token().class_id:
        raise Refusal(404, "No such entry", "The token's class has no entry with this number.")
    return found


def the_station(station_id: int) -> Station:
    """A station of such a contest."""
    found = web.reading().get(Station, station_id)
    if found is None or found.contest_id not in own_contests():
        raise Refusal(404, "No such station", "There is no station with this number in a contest of the class.")
    return found


def the_standings(contest: Contest) -> Standings:
    """How a contest stands."""
    try:
        return standings(web.reading(), contest.id)
    except rulebook.Refusal as refused:
        raise Refusal(409, "No list yet", str(refused)) from None


def contest_shape(found: Contest) -> shapes.Contest:
    """A contest as programs read it."""
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


def entries_shape(found: Contest) -> shapes.Entries:
    """Its entries, by number."""
    return shapes.Entries(items=tuple(entry_shape(one) for one in entering.entered(web.reading(), found.id)))


def entry_shape(one: Entry) -> shapes.Entry:
    """An entry as programs read it; whose it is, for the class itself alone."""
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
