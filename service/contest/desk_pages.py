"""The coordinator's desk of a contest: rules, entries, running order, labels, the list and its complaints."""

from __future__ import annotations

import secrets
from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from rubric.language import _
from rubric.messages.orders import AWARD_PAPERS
from service import web
from service.contest import complaints, entering, publishing, rulebook
from service.contest.award_pages import failures, prints
from service.contest.labels import labels
from service.contest.picking import STATES, pick, wanted_of
from service.contest.reaching import contest_or_404, coordinator_only, done, entry_or_404, local_now
from service.contest.standings import broke_last, entry_facts, facts_of, standings
from service.people.guards import staff_only
from service.records.contest_models import DISQUALIFIED, Entry, Protest
from service.records.models import Contest

pages = Blueprint("contest_desk", __name__)


@pages.get("/staff/contests/<int:contest_id>")
@staff_only
def desk(contest_id: int) -> str:
    """How the contest stands, and what can be done about it."""
    contest, session = contest_or_404(contest_id), web.reading()
    version = rulebook.newest(session, contest.id)
    rules = rulebook.rules_of(version) if version else None
    entries = sorted(entering.entered(session, contest.id), key=lambda entry: (entry.running or 0, entry.number))
    found = {r.bridge.number: r for r in standings(session, contest.id).results} if rules else {}
    return render_template(
        "contest-desk.html",
        contest=contest,
        version=version,
        rules=rules,
        entries=entries,
        picked=pick(entries, lambda entry: entry_facts(entry, found.get(entry.number)), wanted_of(request.args)),
        divisions=sorted({entry.division for entry in entries}),
        states=STATES[:3],
        locked=rules is not None and entering.is_locked(session, rules, contest.id, local_now()),
        ordered=any(entry.running for entry in entries),
        published=publishing.publications(session, contest.id),
        records=publishing.records(session)[:20],
        prints=prints(session, contest.id),
        papers=AWARD_PAPERS,
        failed=failures(session, contest.id),
    )


@pages.post("/staff/contests/<int:contest_id>/freeze")
@coordinator_only
def freeze(contest_id: int) -> Response:
    """Lock the entries."""
    contest = contest_or_404(contest_id)
    done(lambda session, who: entering.freeze(session, contest.id, who), _("The entries are locked."))
    return _back(contest)


@pages.post("/staff/contests/<int:contest_id>/order")
@coordinator_only
def draw_order(contest_id: int) -> Response:
    """Draw the running order anew."""
    contest = contest_or_404(contest_id)
    seed = secrets.randbelow(10_000)
    said = _("The running order is drawn, with the number {seed}.", seed=seed)
    done(lambda session, who: entering.draw_order(session, contest.id, seed, who), said)
    return _back(contest)


@pages.get("/staff/contests/<int:contest_id>/order")
@staff_only
def order(contest_id: int) -> str:
    """The running order to print."""
    contest = contest_or_404(contest_id)
    entries = [entry for entry in entering.entered(web.reading(), contest.id) if entry.running]
    ordered = sorted(entries, key=lambda entry: entry.running or 0)
    return render_template("contest-order.html", contest=contest, entries=ordered)


@pages.get("/staff/contests/<int:contest_id>/labels")
@staff_only
def bridge_labels(contest_id: int) -> str:
    """Labels to print and tie to the bridges."""
    contest = contest_or_404(contest_id)
    made = labels(entering.entered(web.reading(), contest.id), request.url_root)
    return render_template("contest-labels.html", contest=contest, labels=made)


@pages.get("/staff/contests/<int:contest_id>/list")
@staff_only
def official_list(contest_id: int) -> str:
    """The list as it stands at this moment, with what waits to be looked at."""
    contest, session = contest_or_404(contest_id), web.reading()
    try:
        found = standings(session, contest.id)
    except rulebook.Refusal as refused:
        return render_template("contest-list.html", contest=contest, found=None, problem=str(refused))
    return render_template(
        "contest-list.html",
        contest=contest,
        found=found,
        picked=pick(found.results, lambda result: facts_of(found, result), wanted_of(request.args)),
        divisions=list(dict.fromkeys(result.bridge.division for result in found.results)),
        states=STATES,
        broke_last=broke_last,
        protests=complaints.protests(session, [entry.id for entry in found.entries.values()]),
        published=publishing.publications(session, contest.id),
    )


@pages.post("/staff/contests/<int:contest_id>/publish")
@coordinator_only
def publish(contest_id: int) -> Response:
    """Make the list public, or correct it."""
    contest = contest_or_404(contest_id)
    notice = request.form.get("notice", "")
    done(
        lambda session, who: publishing.publish(session, who, session.get_one(Contest, contest.id), notice),
        _("The list is public now."),
    )
    return redirect(url_for("contest_desk.official_list", contest_id=contest.id), 303)


@pages.post("/staff/contests/<int:contest_id>/records")
@coordinator_only
def note_record(contest_id: int) -> Response:
    """Note a result of an earlier year."""
    contest = contest_or_404(contest_id)
    year, title, alias, efficiency = (request.form.get(name, "") for name in ("year", "title", "alias", "efficiency"))
    done(lambda session, __: publishing.note_record(session, year, title, alias, efficiency), _("The record is noted."))
    return _back(contest)


@pages.post("/staff/entries/<int:entry_id>/confirm")
@staff_only
def confirm(entry_id: int) -> Response:
    """A second pair of eyes on the readings of a bridge, from whichever class it is."""
    entry = web.reading().get(Entry, entry_id) or abort(404)
    contest = contest_or_404(entry.contest_id)
    done(
        lambda session, who: complaints.confirm(session, who, session.get_one(Entry, entry.id)),
        _("You confirmed number {number}.", number=entry.number),
    )
    return _to_list(contest.id, f"bridge-{entry.number}")


@pages.post("/staff/entries/<int:entry_id>/ruling")
@coordinator_only
def rule(entry_id: int) -> Response:
    """Disqualify a bridge, or lift it."""
    entry = entry_or_404(entry_id)
    what, why = request.form.get("what", ""), request.form.get("why", "")
    done(
        lambda session, who: complaints.rule(session, who, session.get_one(Entry, entry.id), what, why),
        _("Number {number}: disqualified.", number=entry.number)
        if what == DISQUALIFIED
        else _("Number {number}: reinstated.", number=entry.number),
    )
    return _to_list(entry.contest_id, f"bridge-{entry.number}")


@pages.post("/staff/entries/<int:entry_id>/protest")
@staff_only
def protest(entry_id: int) -> Response:
    """Note a protest about a bridge."""
    entry = entry_or_404(entry_id)
    text = request.form.get("text", "")
    done(
        lambda session, who: complaints.protest(session, who, session.get_one(Entry, entry.id), text),
        _("The protest about number {number} is noted.", number=entry.number),
    )
    return _to_list(entry.contest_id, f"bridge-{entry.number}")


@pages.post("/staff/protests/<int:protest_id>")
@coordinator_only
def answer(protest_id: int) -> Response:
    """Answer a protest."""
    found = web.reading().get(Protest, protest_id) or abort(404)
    text = request.form.get("answer", "")
    done(
        lambda session, who: complaints.answer(who, session.get_one(Protest, found.id), text),
        _("The answer is noted."),
    )
    return _to_list(found.entry.contest_id, "protests")


def _to_list(contest_id: int, anchor: str = "") -> Response:
    """Back to that part of the list from which it was asked."""
    shown: dict[str, Any] = wanted_of(request.args).args
    return redirect(url_for("contest_desk.official_list", contest_id=contest_id, _anchor=anchor, **shown), 303)


def _back(contest: Contest) -> Response:
    return redirect(url_for("contest_desk.desk", contest_id=contest.id), 303)
