"""Pages on which a teacher changes marks: corrections, hold and release."""

from __future__ import annotations

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Redirect

from rubric.language import _, counted
from service import web
from service.classes import overview, releasing
from service.classes.correcting import WHOLE, correct, lines, printed
from service.classes.history import given_by_hand
from service.classes.judging import LONGEST_COMMENT, NotJudged
from service.classes.placing import has_places
from service.classes.setting import marks_wait, rubric_of
from service.people.guards import staff_only
from service.records import queries
from service.records.models import MARKED, RECEIVED, Assignment, Job, Submission
from service.records.queries import AttemptLine

pages = Blueprint("marks", __name__)


@pages.route("/attempts/<int:submission_id>/corrections", methods=["GET", "POST"])
@staff_only
def corrections(submission_id: int) -> str | Redirect | tuple[str, int]:
    """Put points in place of computed ones, with a reason; comment on criteria and on the whole."""
    found = _submission(submission_id)
    if request.method == "GET":
        return _corrections_page(found)
    try:
        with web.writing() as session:
            changed, job = correct(session, found.id, web.person().id, request.form)
    except NotJudged as refused:
        return _corrections_page(found, str(refused)), 422
    _send([job] if job else [])
    flash(_("Your changes are saved.") if changed else _("Nothing was changed."))
    return redirect(url_for("attempts.attempt", submission_id=found.id), 303)


@pages.post("/attempts/<int:submission_id>/release")
@staff_only
def release_one(submission_id: int) -> Redirect:
    """Release the mark of one attempt, or hold it."""
    found = _submission(submission_id)
    _carry_out("hold" if request.form.get("do") == "hold" else "release", [found.id])
    return redirect(url_for("attempts.attempt", submission_id=found.id), 303)


@pages.route("/staff/assignments/<int:assignment_id>/release", methods=["GET", "POST"])
@staff_only
def release(assignment_id: int) -> str | Redirect:
    """Release or hold some marks of an assignment, or all."""
    found = _assignment(assignment_id)
    attempts = [line for line in _attempts(found) if line.state == MARKED]
    if request.method == "GET":
        return _release_page(found, attempts)
    do, everyone = request.form.get("do", ""), request.form.get("which") == "all"
    chosen = set(request.form.getlist("attempt"))
    wanted = [line.id for line in attempts if everyone or str(line.id) in chosen]
    if do not in ("release", "hold") or not wanted:
        flash(_("Nothing was chosen, so nothing was changed."))
    else:
        _carry_out(do, wanted)
    return redirect(url_for("marks.release", assignment_id=found.id), 303)


@pages.post("/staff/assignments/<int:assignment_id>/release/setting")
@staff_only
def release_setting(assignment_id: int) -> Redirect:
    """Say whether marks of attempts to come wait for a teacher."""
    found = _assignment(assignment_id)
    by_hand = request.form.get("release") != "at once"
    with web.writing() as session:
        releasing.set_by_hand(session, web.person().id, session.get_one(Assignment, found.id), by_hand)
        waits = marks_wait(session.get_one(Assignment, found.id))
    by_hand_said, at_once_said = (
        _("From now on, marks wait until you release them."),
        _("From now on, marks are given at once."),
    )
    flash(by_hand_said if waits else at_once_said)
    return redirect(url_for("marks.release", assignment_id=found.id), 303)


def _carry_out(do: str, submission_ids: list[int]) -> None:
    why = " ".join(request.form.get("why", "").split())[:LONGEST_COMMENT]
    if do == "hold":
        with web.writing() as session:
            count = releasing.hold(session, web.person().id, submission_ids, why)
        held = counted("{count} mark held back.", "{count} marks held back.", count)
        flash(held if count else _("Held back already: nothing was changed."))
        return
    with web.writing() as session:
        anew = request.form.get("places") == "anew"
        jobs = releasing.release(session, web.person().id, submission_ids, anew=anew)
    _send(jobs)
    released = counted("{count} mark released.", "{count} marks released.", len(jobs))
    flash(released if jobs else _("Released already: nothing was changed."))


def _send(jobs: list[Job]) -> None:
    for job in jobs:
        web.send(job)


def _corrections_page(found: Submission, problem: str = "") -> str:
    if found.outcome is None or found.state == RECEIVED:
        abort(404)
    return render_template(
        "corrections.html",
        submission=found,
        assignment=found.assignment,
        lines=lines(found),
        printed=printed(found),
        changes=given_by_hand(web.reading(), found),
        whole=found.comments.get(WHOLE, ""),
        longest=LONGEST_COMMENT,
        problem=problem,
        typed=request.form if problem else None,
    )


def _release_page(found: Assignment, attempts: list[AttemptLine]) -> str:
    rubric = rubric_of(found.newest)
    rows = overview.rows(found.school_class.students, attempts, rubric.attempts)
    return render_template(
        "release.html",
        assignment=found,
        rows=[(row, [line for line in attempts if line.student_id == row.student.id]) for row in rows],
        held=sum(line.held for line in attempts),
        count=len(attempts),
        by_place=has_places(rubric),
        by_rubric=rubric.release == "by hand",
        longest=LONGEST_COMMENT,
    )


def _submission(submission_id: int) -> Submission:
    return queries.submission(web.reading(), web.person(), submission_id) or abort(404)


def _assignment(assignment_id: int) -> Assignment:
    return queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)


def _attempts(found: Assignment) -> list[AttemptLine]:
    return queries.attempts(web.reading(), web.person(), found.id)
