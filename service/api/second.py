"""What programs may do about a second marking: ask for it, mark blind, settle what differs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from werkzeug.wrappers import Response

from rubric.messages.outcomes import Marked
from service import web
from service.api import second_shapes as shapes
from service.api.answering import answer, carrying_out, moment, pages, send_all, the_assignment
from service.api.asking import body_as, for_programs, token
from service.api.marking import places_of
from service.api.problems import Refusal
from service.api.tokens import READ_NAMES
from service.api.work_shapes import Judged, Judgement
from service.classes import second
from service.classes.judging import to_judge
from service.marks import judged, marks_computed
from service.records import queries
from service.records import second_markings as kept
from service.records.models import Assignment, SecondMarking


@pages.get("/assignments/<int:assignment_id>/second")
@for_programs
def second_markings(assignment_id: int) -> Response:
    """What is marked a second time, and who may be asked."""
    return answer(_markings(the_assignment(assignment_id)))


@pages.post("/assignments/<int:assignment_id>/second")
@for_programs
def ask_second(assignment_id: int) -> Response:
    """Ask a teacher outside the class."""
    found, new = the_assignment(assignment_id), body_as(shapes.AskSecond)
    own = {line.id for line in queries.attempts(web.reading(), token().by, found.id)}
    wanted = [one for one in new.attempt_ids if one in own]
    if len(wanted) < len(new.attempt_ids):
        raise Refusal(422, "No such attempt", "Not all of 'attempt_ids' are attempts at this assignment.")
    with carrying_out() as (session, who):
        second.ask(session, who.id, new.marker_id, found.class_id, wanted)
    return answer(_markings(the_assignment(assignment_id)))


@pages.get("/second/<int:marking_id>/differences")
@for_programs
def differences(marking_id: int) -> Response:
    """Where the two differ."""
    return answer(_differences(_of_class(marking_id)))


@pages.post("/second/<int:marking_id>/settle")
@for_programs
def settle_second(marking_id: int) -> Response:
    """Say which points stand, and why."""
    found, new = _of_class(marking_id), body_as(shapes.Settling)
    places = places_of(to_judge(found.submission.version), [one.criterion for one in new.settled])
    form = {f"points-{places[one.criterion]}": f"{one.points:.9g}" for one in new.settled}
    form |= {f"why-{places[one.criterion]}": one.why for one in new.settled}
    with carrying_out() as (session, who):
        job = second.settle(session, found.id, who, form)
    send_all([job] if job else [])
    return answer(_differences(_of_class(marking_id)))


@pages.post("/second/<int:marking_id>/withdraw")
@for_programs
def withdraw_second(marking_id: int) -> Response:
    """Take back what was asked and is not done."""
    found = _of_class(marking_id)
    assignment_id = found.submission.assignment_id
    with carrying_out() as (session, who):
        if not second.withdraw(session, who.id, found.id):
            raise Refusal(409, "Done already", "The points are given, so the second marking stays.")
    return answer(_markings(the_assignment(assignment_id)))


@pages.get("/second")
@for_programs
def second_asked() -> Response:
    """What the token's maker was asked to mark."""
    found = kept.asked_of(web.reading(), token().by)
    return answer(shapes.SecondsAsked(items=tuple(shapes.SecondAsked(**_asked(one)) for one in found)))


@pages.get("/second/<int:marking_id>")
@for_programs
def blind_work(marking_id: int) -> Response:
    """One of these works."""
    return answer(_blind(_asked_for(marking_id)))


@pages.post("/second/<int:marking_id>")
@for_programs
def mark_blind(marking_id: int) -> Response:
    """Give points to it."""
    found, new = _asked_for(marking_id), body_as(Judgement)
    places = places_of(to_judge(found.submission.version), [one.criterion for one in new.judged])
    form = {f"points-{places[one.criterion]}": f"{one.points:.9g}" for one in new.judged}
    form |= {f"comment-{places[one.criterion]}": one.comment for one in new.judged}
    with carrying_out() as (session, _):
        second.answer(session, found.id, form)
    return answer(_blind(_asked_for(marking_id)))


def _of_class(marking_id: int) -> SecondMarking:
    found = kept.of_class(web.reading(), token().by, marking_id)
    if found is None or found.submission.assignment.class_id != token().class_id:
        raise Refusal(404, "No such second marking", "The token's class has no second marking with this number.")
    return found


def _asked_for(marking_id: int) -> SecondMarking:
    found = kept.asked_for(web.reading(), token().by, marking_id)
    if found is None:
        raise Refusal(404, "No such second marking", "Whoever made the token was not asked for one with this number.")
    return found


def _markings(found: Assignment) -> shapes.SecondMarkings:
    named = READ_NAMES in token().scopes
    may_be_asked = kept.may_be_asked(web.reading(), found.class_id)
    markers = tuple(shapes.Marker(id=one.id, name=one.name if named else None) for one in may_be_asked)
    rows = kept.of_assignment(web.reading(), token().by, found.id)
    return shapes.SecondMarkings(markers=markers, items=tuple(_marking(one) for one in rows))


def _marking(one: SecondMarking) -> shapes.SecondMarking:
    return shapes.SecondMarking(
        id=one.id,
        attempt_id=one.submission_id,
        marker_id=one.marker_id,
        done_at=moment(one.done_at),
        open=_open(second.differences(one)),
    )


def _open(found: Sequence[second.Difference] | None) -> int | None:
    return None if found is None else sum(one.open for one in found)


def _differences(found: SecondMarking) -> shapes.Differences:
    rows = second.differences(found)
    items = tuple(_difference(one) for one in rows) if rows is not None else None
    return shapes.Differences(id=found.id, attempt_id=found.submission_id, items=items)


def _difference(one: second.Difference) -> shapes.PointsDifference:
    return shapes.PointsDifference(
        criterion=one.name,
        of=one.of,
        first=one.first,
        second=one.second,
        first_said=one.first_said,
        second_said=one.second_said,
        stands=one.settled.points if one.settled else None,
        why=one.settled.comment if one.settled else "",
    )


def _asked(one: SecondMarking) -> dict[str, Any]:
    return {"id": one.id, "title": one.submission.assignment.title, "done_at": moment(one.done_at)}


def _blind(found: SecondMarking) -> shapes.BlindWork:
    """No more than the page of blind marking shows: no file, no title of the bridge, no student."""
    submission = found.submission
    outcome = Marked.model_validate(submission.outcome)
    criteria = to_judge(submission.version)
    given = judged(found.points).items()
    return shapes.BlindWork.model_validate(
        _asked(found)
        | {
            "brief": submission.version.brief_text,
            "analysis": outcome.analysis,
            "drawing": outcome.drawing,
            "computed": tuple(one for one in marks_computed(submission).criteria if one.kind != "judgement"),
            "to_judge": tuple(shapes.ToJudge(criterion=c.name, of=c.points, look_for=c.look_for) for _, c in criteria),
            "given": tuple(Judged(criterion=name, points=one.points, comment=one.comment) for name, one in given),
        }
    )
