"""Entering a bridge in a contest: one page for an attempt, for the pupil and for the teacher."""

from __future__ import annotations

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response

from rubric.language import _
from service import web
from service.contest import entering, rulebook
from service.contest.reaching import entry_or_404, local_now
from service.records import queries
from service.records.contest_models import Entry
from service.records.models import STUDENT, Contest, Person, Submission

pages = Blueprint("entering", __name__)


@pages.get("/attempts/<int:submission_id>/entry")
def entry(submission_id: int) -> str:
    """What entering means for this attempt."""
    return _page(_found(submission_id))


@pages.post("/attempts/<int:submission_id>/entry")
def enter(submission_id: int) -> Response | tuple[str, int]:
    """Enter the attempt, or put it in place of one that is entered."""
    found = _found(submission_id)
    wanted = request.form.get("in place of", "")
    instead = entry_or_404(int(wanted)) if wanted.isascii() and wanted.isdigit() else None
    local = local_now()

    def work(session: Session) -> None:
        by, row = session.get_one(Person, web.person().id), session.get_one(Submission, found.id)
        if instead is not None:
            entering.change_entry(session, by, session.get_one(Entry, instead.id), row, _asked(), local)
        else:
            entering.name_entry(session, by, row, _asked(), local)

    try:
        with web.writing() as session:
            work(session)
    except rulebook.Refusal as refused:
        return _page(found, str(refused)), 422
    flash(_("The bridge is entered."))
    return redirect(url_for("entering.entry", submission_id=submission_id), 303)


@pages.post("/entries/<int:entry_id>/withdraw")
def withdraw(entry_id: int) -> Response:
    """Take a bridge out of the contest."""
    found = entry_or_404(entry_id)
    local, why = local_now(), request.form.get("why", "")
    try:
        with web.writing() as session:
            by = session.get_one(Person, web.person().id)
            entering.withdraw(session, by, session.get_one(Entry, found.id), why, local)
    except rulebook.Refusal as refused:
        flash(_("Not done: {reason}", reason=refused))
    else:
        flash(_("Number {number} is withdrawn.", number=found.number))
    return redirect(url_for("entering.entry", submission_id=found.submission_id), 303)


def _asked() -> entering.Asked:
    age = request.form.get("age", "").strip()
    years = int(age) if age.isascii() and age.isdigit() and len(age) < 3 else None
    return entering.Asked(request.form.get("division", ""), years, request.form.get("why", ""))


def _found(submission_id: int) -> Submission:
    found = queries.submission(web.reading(), web.person(), submission_id) or abort(404)
    return found if found.assignment.contest_id else abort(404)


def _page(found: Submission, problem: str = "") -> str:
    session = web.reading()
    contest = session.get_one(Contest, found.assignment.contest_id)
    version = rulebook.newest(session, contest.id)
    rules = rulebook.rules_of(version) if version else None
    own = entering.entries_of(session, contest.id, found.student_id)
    return render_template(
        "contest-entry.html",
        submission=found,
        contest=contest,
        rules=rules,
        own=own,
        this=next((one for one in own if one.submission_id == found.id), None),
        locked=rules is not None and entering.is_locked(session, rules, contest.id, local_now()),
        why_not=entering.why_not_eligible(rules, found) if rules else _(rulebook.NO_RULES),
        free=[one.name for one in rules.divisions if one.free] if rules else [],
        by_pupil=web.person().role == STUDENT,
        problem=problem,
        typed=request.form,
    )
