"""The page of one attempt: for the student whose it is, and for the teachers of the class."""

from __future__ import annotations

from io import BytesIO
from typing import Any

from flask import Blueprint, Response, abort, flash, redirect, render_template, request, send_file, url_for
from werkzeug.wrappers import Response as Redirect

from rubric.by_hand import by_hand
from rubric.language import _
from rubric.messages.names import MARK, PRINT
from rubric.messages.orders import PAPERS
from rubric.messages.outcomes import Marked
from service import web
from service.classes import history, plans, results
from service.classes.correcting import WHOLE
from service.classes.judging import NotJudged, again, judge, read_judgements, to_judge
from service.classes.releasing import held_since
from service.classes.setting import brief_of
from service.jobs import ahead
from service.marks import marks_now
from service.people.guards import staff_only
from service.records import queries
from service.records.models import FAILED, RECEIVED, STUDENT, WAITING, Sheet, Submission
from service.saying import ahead_said, file_word

pages = Blueprint("attempts", __name__)


@pages.get("/attempts/<int:submission_id>")
def attempt(submission_id: int) -> str:
    """The whole page."""
    return _page(_found(submission_id))


@pages.get("/attempts/<int:submission_id>/parts")
def parts(submission_id: int) -> str:
    """The parts that change while a page waits, for the script to put in place."""
    return render_template("attempt-parts.html", **_values(_found(submission_id)))


@pages.get("/attempts/<int:submission_id>/sheet.pdf")
def sheet(submission_id: int) -> Response:
    """The feedback sheet; a student's only while the mark is released."""
    found = _found(submission_id)
    if found.held and web.person().role == STUDENT:
        abort(404)
    printed = web.reading().get(Sheet, found.id) or abort(404)
    name = f"sheet-{file_word(found.assignment.title, str(found.assignment_id))}-attempt-{found.number}.pdf"
    return send_file(BytesIO(printed.pdf), "application/pdf", as_attachment=True, download_name=name)


@pages.get("/attempts/<int:submission_id>/file")
def file(submission_id: int) -> Response:
    """The file as it was handed in; always a download, never shown by the browser."""
    found = _found(submission_id)
    name = found.file_name if "." in found.file_name else f"attempt-{found.number}.yaml"
    return send_file(BytesIO(found.file), "application/octet-stream", as_attachment=True, download_name=name)


@pages.post("/attempts/<int:submission_id>/judgement")
@staff_only
def judgement(submission_id: int) -> str | Redirect | tuple[str, int]:
    """Take the teacher's own points in; a new sheet is printed."""
    found = _found(submission_id)
    try:
        judgements = read_judgements(found.version, request.form)
        with web.writing() as session:
            job = judge(session, found.id, web.person().id, judgements)
    except NotJudged as refused:
        return _page(found, problem=str(refused), typed=request.form), 422
    if job is not None:
        web.send(job)
    flash(_("Your points are saved. A new sheet is being printed.") if job else _("Your points are saved."))
    return redirect(url_for("attempts.attempt", submission_id=submission_id), 303)


@pages.post("/attempts/<int:submission_id>/again")
@staff_only
def send_again(submission_id: int) -> Redirect:
    """Send a file that could not be marked or printed once more."""
    found = _found(submission_id)
    with web.writing() as session:
        job = again(session, found.id)
    if job is None:
        flash(_("Nothing had to be sent: this file is marked and its sheet is printed or on its way."))
    else:
        web.send(job)
        flash(_("Sent again."))
    return redirect(url_for("attempts.attempt", submission_id=submission_id), 303)


def stage(submission: Submission) -> str:
    """How far an attempt has come.

    'received', then 'failed', or 'held' until a teacher releases it, or 'marked' while its sheet is
    printed, then 'printed' or 'unprinted'.
    """
    if submission.state == RECEIVED:
        return "received"
    if submission.outcome is None:
        return "failed"
    if submission.held:
        return "held"
    printing = queries.job_state(web.reading(), PRINT, submission.id)
    if printing == FAILED:
        return "unprinted"
    return "printed" if printing != WAITING and queries.has_sheet(web.reading(), submission.id) else "marked"


def _found(submission_id: int) -> Submission:
    return queries.submission(web.reading(), web.person(), submission_id) or abort(404)


def _page(found: Submission, **more: Any) -> str:
    return render_template("attempt.html", **_values(found), **more)


def _values(found: Submission) -> dict[str, Any]:
    session, person = web.reading(), web.person()
    mine = person.role == STUDENT
    changes = history.entries(session, found.id)
    values: dict[str, Any] = {
        "submission": found,
        "assignment": found.assignment,
        "stage": stage(found),
        "waits": ahead_said(ahead(session, MARK, found.id)),
        "plan": plans.state_of(session, found) if plans.can_have(found) else None,
        "papers": PAPERS,
        "print_failed": queries.job_state(session, PRINT, found.id) == FAILED,
        "mark_failed": queries.job_state(session, MARK, found.id) == FAILED,
        "others": queries.attempts(session, person, found.assignment_id, found.student_id),
        "late": found.due is not None and found.handed_in > found.due,
        "mine": mine,
        "withheld": mine and found.held,
        "held_since": held_since(session, found),
        "told": () if mine and found.held else history.told(changes),
        "history": () if mine else changes,
    }
    if found.outcome is None or found.state == RECEIVED:
        return values
    return values | (_glimpse(found) if values["withheld"] else _result(found))


def _glimpse(found: Submission) -> dict[str, Any]:
    """What a student may read while the mark is held: mistakes of the file, and whether the truss stands."""
    outcome = Marked.model_validate(found.outcome)
    still = outcome.analysis is not None and outcome.analysis.state == "mechanism"
    return {
        "mistakes": outcome.mistakes,
        "moves": results.moves(outcome.analysis) if still and outcome.analysis else (),
    }


def _result(found: Submission) -> dict[str, Any]:
    outcome, brief = Marked.model_validate(found.outcome), brief_of(found.version)
    analysis = outcome.analysis
    stable = analysis is not None and analysis.state == "stable"
    return {
        "outcome": outcome,
        "mistakes": outcome.mistakes,
        "brief": brief,
        "marks": marks_now(found),
        "comments": found.comments,
        "said": found.comments.get(WHOLE, ""),
        "to_judge": to_judge(found.version),
        "worked": outcome.told,
        "numbers": results.numbers(analysis) if analysis and stable and not brief.problem else (),
        "travel": results.stops(analysis) if analysis else (),
        "cuts": results.cut_lines(analysis) if analysis else (),
        "by_hand": by_hand(outcome.working),
        "members": results.member_lines(analysis) if analysis and stable else (),
    }
