"""Pages of second marking: asking for it, marking blind, comparing and settling."""

from __future__ import annotations

import random
from collections.abc import Sequence
from typing import Any

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Redirect

from rubric.language import _, counted
from rubric.messages.outcomes import Marked
from service import web
from service.classes import overview, results, second
from service.classes.judging import NotJudged, to_judge
from service.classes.setting import brief_of, rubric_of
from service.marks import marks_computed
from service.people.guards import staff_only
from service.records import queries, second_markings
from service.records.models import MARKED, Assignment, SecondMarking
from service.records.queries import AttemptLine

pages = Blueprint("second", __name__)


@pages.get("/second")
@staff_only
def asked() -> str:
    """What this person was asked to mark a second time."""
    return render_template("second-asked.html", markings=second_markings.asked_of(web.reading(), web.person()))


@pages.route("/second/<int:marking_id>", methods=["GET", "POST"])
@staff_only
def blind(marking_id: int) -> str | Redirect | tuple[str, int]:
    """Mark the work, seeing nothing of whose it is and what the first teacher gave."""
    found = second_markings.asked_for(web.reading(), web.person(), marking_id) or abort(404)
    if request.method == "GET":
        return _blind_page(found)
    try:
        with web.writing() as session:
            second.answer(session, found.id, request.form)
    except NotJudged as refused:
        return _blind_page(found, str(refused)), 422
    flash(_("Your points are kept. Thank you."))
    return redirect(url_for("second.asked"), 303)


@pages.route("/staff/assignments/<int:assignment_id>/second", methods=["GET", "POST"])
@staff_only
def ask(assignment_id: int) -> str | Redirect | tuple[str, int]:
    """Ask another teacher to mark attempts of an assignment; see how far that is."""
    found = queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)
    rows = _rows(found)
    if request.method == "GET":
        return _ask_page(found, rows)
    wanted = _wanted([row.counts for row in rows if row.counts])
    marker = request.form.get("marker", "")
    try:
        if not wanted:
            raise NotJudged(_("Tick attempts, or write how many to draw."))
        with web.writing() as session:
            number = int(marker) if marker.isdecimal() and len(marker) < 10 else 0
            count = second.ask(session, web.person().id, number, found.class_id, wanted)
    except NotJudged as refused:
        return _ask_page(found, rows, str(refused)), 422
    handed_on = counted("{count} attempt handed on.", "{count} attempts handed on.", count)
    flash(handed_on if count else _("All of these were asked for already."))
    return redirect(url_for("second.ask", assignment_id=found.id), 303)


@pages.route("/second/<int:marking_id>/settle", methods=["GET", "POST"])
@staff_only
def settle(marking_id: int) -> str | Redirect | tuple[str, int]:
    """Where the two differ, and which points stand."""
    found = second_markings.of_class(web.reading(), web.person(), marking_id) or abort(404)
    if request.method == "GET":
        return _settle_page(found)
    try:
        with web.writing() as session:
            job = second.settle(session, found.id, web.person(), request.form)
    except NotJudged as refused:
        return _settle_page(found, str(refused)), 422
    if job is not None:
        web.send(job)
    flash(_("What stands is kept."))
    return redirect(url_for("second.settle", marking_id=found.id), 303)


@pages.post("/second/<int:marking_id>/withdraw")
@staff_only
def withdraw(marking_id: int) -> Redirect:
    """Take back what was asked."""
    found = second_markings.of_class(web.reading(), web.person(), marking_id) or abort(404)
    with web.writing() as session:
        gone = second.withdraw(session, web.person().id, found.id)
    flash(_("Withdrawn.") if gone else _("It is done already, so it stays."))
    return redirect(url_for("second.ask", assignment_id=found.submission.assignment_id), 303)


def _wanted(lines: Sequence[AttemptLine]) -> list[int]:
    """The attempts ticked, or a sample drawn of those that count."""
    able = [line.id for line in lines if line.state == MARKED and not line.has_mistakes]
    typed = request.form.get("sample", "").strip()
    if typed.isdecimal() and len(typed) < 5:
        return random.SystemRandom().sample(able, min(int(typed), len(able)))
    chosen = set(request.form.getlist("attempt"))
    return [id_ for id_ in able if str(id_) in chosen]


def _rows(found: Assignment) -> list[overview.Row]:
    lines = queries.attempts(web.reading(), web.person(), found.id)
    rule = rubric_of(found.newest).attempts
    return overview.rows(found.school_class.students, lines, rule)


def _ask_page(found: Assignment, rows: Sequence[overview.Row], problem: str = "") -> str:
    session = web.reading()
    return render_template(
        "second-ask.html",
        assignment=found,
        rows=[row for row in rows if row.counts and not row.counts.has_mistakes],
        markers=second_markings.may_be_asked(session, found.class_id),
        able=bool(to_judge(found.newest)),
        markings=[(one, _state(one)) for one in second_markings.of_assignment(session, web.person(), found.id)],
        problem=problem,
        typed=request.form,
    )


def _state(marking: SecondMarking) -> str:
    """How far a second marking is, in a few words."""
    if marking.done_at is None:
        return _("asked for")
    found = second.differences(marking)
    if found is None:
        return _("done; waits for the first teacher's points")
    still = sum(one.open for one in found)
    if still:
        return counted("{count} difference to settle", "{count} differences to settle", still)
    return _("settled") if any(one.settled for one in found) else _("no difference")


def _blind_page(found: SecondMarking, problem: str = "") -> str:
    submission = found.submission
    outcome, brief = Marked.model_validate(submission.outcome), brief_of(submission.version)
    analysis = outcome.analysis
    stable = analysis is not None and analysis.state == "stable"
    values: dict[str, Any] = {
        "marking": found,
        "title": submission.assignment.title,
        "brief": brief,
        "outcome": outcome,
        "to_judge": to_judge(submission.version),
        "computed": [one for one in marks_computed(submission).criteria if one.kind != "judgement"],
        "worked": outcome.told,
        "numbers": results.numbers(analysis) if analysis and stable and not brief.problem else (),
        "members": results.member_lines(analysis) if analysis and stable else (),
        "differences": second.differences(found),
        "given": found.points,
        "typed": request.form if problem else None,
    }
    return render_template("second-mark.html", problem=problem, **values)


def _settle_page(found: SecondMarking, problem: str = "") -> str:
    return render_template(
        "second-settle.html",
        marking=found,
        submission=found.submission,
        differences=second.differences(found),
        state=_state(found),
        mine=found.marker_id == web.person().id,
        problem=problem,
        typed=request.form if problem else None,
    )
