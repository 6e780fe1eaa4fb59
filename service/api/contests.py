"""What programs may do about contests that the token's class takes part in; stations stand beside."""

from __future__ import annotations

import secrets

from flask import url_for
from sqlalchemy import select
from werkzeug.wrappers import Response

from rubric.problems import Refused
from service import web
from service.api import contest_shapes as shapes
from service.api import work_shapes
from service.api.answering import answer, carrying_out, moment, pages, the_attempt
from service.api.asking import body_as, for_programs, token
from service.api.contest_rows import (
    contest_shape,
    entries_shape,
    entry_shape,
    own_contests,
    own_entry,
    the_contest,
    the_entry,
    the_standings,
)
from service.api.keys import key_for
from service.api.problems import Refusal
from service.contest import complaints, entering, publishing, rulebook
from service.contest.reaching import local_now
from service.records import queries
from service.records.contest_models import Entry, Protest
from service.records.models import Contest, Submission


@pages.get("/contests")
@for_programs
def contests() -> Response:
    """Contests that the class takes part in."""
    found = queries.contests_of(web.reading(), token().by)
    own = own_contests()
    items = (shapes.ContestLine(id=one.id, title=one.title) for one in found if one.id in own)
    return answer(shapes.Contests(items=tuple(items)))


@pages.get("/contests/<int:contest_id>")
@for_programs
def contest(contest_id: int) -> Response:
    """One contest with its rules."""
    return answer(contest_shape(the_contest(contest_id)))


@pages.post("/contests/<int:contest_id>/rules")
@for_programs
def save_rules(contest_id: int) -> Response:
    """The next version of its rules."""
    found, new = the_contest(contest_id), body_as(shapes.NewRules)
    try:
        with carrying_out() as (session, who):
            rulebook.save(session, session.get_one(Contest, found.id), new.rules, new.why, who.id)
    except Refused as error:
        wrong = [{"file": "rules", **vars(one)} for one in error.problems]
        raise Refusal(422, "Something in the rules is to be mended", "See 'problems'.", problems=wrong) from None
    return answer(contest_shape(the_contest(contest_id)))


@pages.get("/contests/<int:contest_id>/entries")
@for_programs
def entries(contest_id: int) -> Response:
    """Bridges that take part."""
    return answer(entries_shape(the_contest(contest_id)))


@pages.post("/attempts/<int:attempt_id>/entry")
@for_programs
def enter(attempt_id: int) -> Response:
    """Enter an attempt, or put it in place of one that is entered."""
    found, new = the_attempt(attempt_id), body_as(shapes.NewEntry)
    instead = own_entry(new.in_place_of) if new.in_place_of is not None else None
    asked, local = entering.Asked(new.division, new.age, new.why), local_now()
    with carrying_out() as (session, who):
        row = session.get_one(Submission, found.id)
        if instead is None:
            number = entering.name_entry(session, who, row, asked, local).id
        else:
            number = instead.id
            entering.change_entry(session, who, session.get_one(Entry, number), row, asked, local)
    return answer(entry_shape(the_entry(number)), 201)


@pages.post("/entries/<int:entry_id>/withdraw")
@for_programs
def withdraw(entry_id: int) -> Response:
    """Take a bridge of the class out."""
    found, new, local = own_entry(entry_id), body_as(work_shapes.Reason), local_now()
    with carrying_out() as (session, who):
        entering.withdraw(session, who, session.get_one(Entry, found.id), new.why, local)
    return answer(entry_shape(the_entry(entry_id)))


@pages.post("/contests/<int:contest_id>/freeze")
@for_programs
def freeze(contest_id: int) -> Response:
    """Lock the entries."""
    found = the_contest(contest_id)
    with carrying_out() as (session, who):
        count = entering.freeze(session, found.id, who)
    return answer(shapes.Counted(entries=count))


@pages.post("/contests/<int:contest_id>/order")
@for_programs
def draw_order(contest_id: int) -> Response:
    """Draw the running order anew."""
    found = the_contest(contest_id)
    with carrying_out() as (session, who):
        entering.draw_order(session, found.id, secrets.randbelow(10_000), who)
    return answer(entries_shape(the_contest(contest_id)))


@pages.get("/contests/<int:contest_id>/list")
@for_programs
def list_now(contest_id: int) -> Response:
    """The official list as it stands."""
    found = the_standings(the_contest(contest_id))
    lines = tuple(publishing.lines_of(found))
    return answer(shapes.ListNow(items=lines, unconfirmed=tuple(sorted(found.unconfirmed))))


@pages.get("/contests/<int:contest_id>/lists")
@for_programs
def lists(contest_id: int) -> Response:
    """The lists that were published."""
    return answer(_lists(the_contest(contest_id)))


@pages.post("/contests/<int:contest_id>/lists")
@for_programs
def publish(contest_id: int) -> Response:
    """Publish the list as it stands, or correct it."""
    found, new = the_contest(contest_id), body_as(shapes.Notice)
    with carrying_out() as (session, who):
        publishing.publish(session, who, session.get_one(Contest, found.id), new.notice)
    return answer(_lists(the_contest(contest_id)), 201, url_for("programs.lists", contest_id=contest_id))


@pages.post("/entries/<int:entry_id>/confirm")
@for_programs
def confirm(entry_id: int) -> Response:
    """A second pair of eyes on the readings of a bridge."""
    found = the_entry(entry_id)
    with carrying_out() as (session, who):
        complaints.confirm(session, who, session.get_one(Entry, found.id))
    return answer(entry_shape(the_entry(entry_id)))


@pages.post("/entries/<int:entry_id>/ruling")
@for_programs
def rule(entry_id: int) -> Response:
    """Disqualify a bridge, or lift it."""
    found, new = the_entry(entry_id), body_as(shapes.Ruling)
    with carrying_out() as (session, who):
        complaints.rule(session, who, session.get_one(Entry, found.id), new.what, new.why)
    return answer(entry_shape(the_entry(entry_id)))


@pages.get("/contests/<int:contest_id>/protests")
@for_programs
def protests(contest_id: int) -> Response:
    """Protests and answers."""
    query = select(Protest).join(Entry, Entry.id == Protest.entry_id)
    rows = web.reading().scalars(query.where(Entry.contest_id == the_contest(contest_id).id).order_by(Protest.id))
    return answer(shapes.Protests(items=tuple(_protest(one) for one in rows)))


@pages.post("/entries/<int:entry_id>/protests")
@for_programs
def protest(entry_id: int) -> Response:
    """Note a protest about a bridge of the class."""
    found, key = own_entry(entry_id), key_for("protest_id", entry_id)
    new = body_as(shapes.NewProtest)
    with carrying_out() as (session, who):
        number = key.done(session)
        if number is None:
            number = complaints.protest(session, who, session.get_one(Entry, found.id), new.text).id
            key.keep(session, number)
    return answer(_protest(web.reading().get_one(Protest, number)), 201)


@pages.post("/protests/<int:protest_id>/answer")
@for_programs
def answer_protest(protest_id: int) -> Response:
    """Answer a protest."""
    found = web.reading().get(Protest, protest_id)
    if found is None:
        raise Refusal(404, "No such protest", "There is no protest with this number.")
    the_contest(found.entry.contest_id)
    new = body_as(shapes.NewProtest)
    with carrying_out() as (session, who):
        complaints.answer(who, session.get_one(Protest, protest_id), new.text)
    return answer(_protest(web.reading().get_one(Protest, protest_id)))


def _lists(found: Contest) -> shapes.PublishedLists:
    kept = publishing.publications(web.reading(), found.id)
    items = (
        shapes.PublishedList(number=one.number, at=moment(one.at) or "", notice=one.notice, items=tuple(one.lines))
        for one in kept
    )
    return shapes.PublishedLists(items=tuple(items))


def _protest(one: Protest) -> shapes.Protest:
    return shapes.Protest(id=one.id, number=one.entry.number, text=one.text, answer=one.answer)
