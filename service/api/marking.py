"""What programs may do about marks: judge, correct, release, and read how they came about."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from flask import url_for
from werkzeug.wrappers import Response

from rubric.criteria.common import Criterion
from rubric.messages.outcomes import Marked
from service import web
from service.api import work_shapes as shapes
from service.api.answering import answer, carrying_out, marked, moment, pages, send_all, the_assignment, the_attempt
from service.api.asking import body_as, for_programs, number_wanted, token
from service.api.problems import Refusal
from service.api.programs import assignment_shape, attempt_shape
from service.api.tokens import READ_NAMES
from service.classes import class_rows, correcting, history, judging, overview, releasing
from service.classes.comparing import Side, compare
from service.classes.setting import rubric_of
from service.marks import marks_now
from service.records import queries
from service.records.models import MARKED, Assignment, Submission


@pages.post("/attempts/<int:attempt_id>/judgement")
@for_programs
def judge(attempt_id: int) -> Response:
    """The points that no computation gives."""
    found, new = marked(attempt_id), body_as(shapes.Judgement)
    places = places_of(judging.to_judge(found.version), [one.criterion for one in new.judged])
    form = {f"points-{places[one.criterion]}": f"{one.points:.9g}" for one in new.judged}
    form |= {f"comment-{places[one.criterion]}": one.comment for one in new.judged}
    with carrying_out() as (session, who):
        job = judging.judge(session, found.id, who.id, judging.read_judgements(found.version, form))
    send_all([job] if job else [])
    return answer(marks_now(marked(attempt_id)))


@pages.post("/attempts/<int:attempt_id>/corrections")
@for_programs
def correct(attempt_id: int) -> Response:
    """Points in place of computed ones, and comments."""
    found, new = marked(attempt_id), body_as(shapes.Corrections)
    named = [one.criterion for one in new.corrections] + [one.criterion for one in new.comments if one.criterion]
    places = places_of(correcting.can_correct(found.version), named)
    form = {f"why-{places[one.criterion]}": one.why for one in new.corrections}
    for one in new.corrections:
        form[f"points-{places[one.criterion]}"] = "" if one.points is None else f"{one.points:.9g}"
    for said in new.comments:
        form[f"comment-{places[said.criterion]}" if said.criterion else "comment"] = said.comment
    with carrying_out() as (session, who):
        _, job = correcting.correct(session, found.id, who.id, form)
    send_all([job] if job else [])
    return answer(marks_now(marked(attempt_id)))


@pages.post("/attempts/<int:attempt_id>/again")
@for_programs
def send_again(attempt_id: int) -> Response:
    """A file that could not be marked or printed goes out once more."""
    found = the_attempt(attempt_id)
    with carrying_out() as (session, _):
        job = judging.again(session, found.id)
    send_all([job] if job else [])
    return answer(attempt_shape(the_attempt(attempt_id)), 202, url_for("programs.attempt", attempt_id=attempt_id))


@pages.get("/attempts/<int:attempt_id>/changes")
@for_programs
def changes(attempt_id: int) -> Response:
    """Every change of a mark, newest first."""
    rows = history.entries(web.reading(), the_attempt(attempt_id).id)
    items = (
        shapes.MarkChange(
            at=moment(row.at) or "",
            by_id=row.person_id,
            what=row.what,
            criterion=row.criterion,
            before=row.before,
            after=row.after,
            why=row.why,
            total_before=row.total_before,
            total_after=row.total_after,
        )
        for row in rows
    )
    return answer(shapes.MarkChanges(items=tuple(items)))


@pages.get("/attempts/<int:attempt_id>/compared")
@for_programs
def compared(attempt_id: int) -> Response:
    """It beside another attempt of the same student."""
    found, wanted = marked(attempt_id), number_wanted("other_id")
    lines = queries.attempts(web.reading(), token().by, found.assignment_id, found.student_id)
    others = [line.id for line in lines if line.state == MARKED and line.id != found.id]
    earlier = [one for one in others if one < found.id]
    nearest = earlier[-1] if earlier else others[0] if others else None
    chosen = nearest if wanted is None else wanted
    if chosen not in others:
        raise Refusal(409, "Nothing to compare with", "There is no such marked attempt of the same student.")
    before, after = sorted((found, marked(chosen)), key=lambda one: one.number)
    what = compare(_side(before), _side(after))
    numbers = tuple(shapes.ComparedNumber(**vars(line)) for line in what.numbers)
    return answer(
        shapes.Compared(before_id=before.id, after_id=after.id, changed=what.changed, did=what.did, numbers=numbers)
    )


@pages.post("/assignments/<int:assignment_id>/release")
@for_programs
def release(assignment_id: int) -> Response:
    """Give marks to students, or hold them back."""
    found, new = the_assignment(assignment_id), body_as(shapes.Release)
    lines = queries.attempts(web.reading(), token().by, found.id)
    every = [line.id for line in lines if line.state == MARKED]
    wanted = every if new.attempt_ids is None else [one for one in every if one in new.attempt_ids]
    with carrying_out() as (session, who):
        if new.do == "hold":
            count, jobs = releasing.hold(session, who.id, wanted, " ".join(new.why.split())[:600]), []
        else:
            jobs = releasing.release(session, who.id, wanted, anew=new.places_anew)
            count = len(jobs)
    send_all(jobs)
    return answer(shapes.Released(changed=count))


@pages.post("/assignments/<int:assignment_id>/release-setting")
@for_programs
def set_release(assignment_id: int) -> Response:
    """Whether marks of attempts to come wait; where the rubric says so, they do in any case."""
    found, new = the_assignment(assignment_id), body_as(shapes.ReleaseSetting)
    with carrying_out() as (session, who):
        releasing.set_by_hand(session, who.id, session.get_one(Assignment, found.id), new.by_hand)
    return answer(assignment_shape(the_assignment(assignment_id)))


@pages.get("/assignments/<int:assignment_id>/table")
@for_programs
def class_table(assignment_id: int) -> Response:
    """How far each student is."""
    found, session = the_assignment(assignment_id), web.reading()
    rows = class_rows.full(session, class_rows.heads(session, found, rubric_of(found.newest).attempts))
    named = READ_NAMES in token().scopes
    return answer(shapes.ClassTable(items=tuple(_row(row, named) for row in rows)))


def _row(row: overview.Row, named: bool) -> shapes.TableRow:
    return shapes.TableRow(
        student_id=row.student.id,
        alias=row.student.alias,
        name=row.student.name if named else None,
        state=row.state,
        attempts=row.attempts,
        newest_id=row.newest.id if row.newest else None,
        counts_id=row.counts.id if row.counts else None,
        total=row.counts.total if row.counts else None,
        out_of=row.counts.out_of if row.counts else None,
        efficiency=row.best_efficiency,
        late=row.late,
    )


def _side(submission: Submission) -> Side:
    return Side(submission.number, Marked.model_validate(submission.outcome), marks_now(submission))


def places_of(criteria: Sequence[tuple[int, Criterion]], named: Sequence[str]) -> Mapping[str, int]:
    """Where each criterion stands in the rubric."""
    places = {criterion.name: place for place, criterion in criteria}
    unknown = [name for name in named if name not in places]
    if unknown:
        known = ", ".join(places) or "none"
        raise Refusal(422, "No such criterion", f"'{unknown[0][:80]}' is not among them. They are: {known}.")
    return places
