"""What programs may learn of works that are alike: for teachers alone, and never part of a mark."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import select
from werkzeug.wrappers import Response

from rubric.messages.names import COMPARE
from rubric.messages.outcomes import Compared
from service import web
from service.api import second_shapes as shapes
from service.api.answering import answer, carrying_out, moment, pages, send_all, the_assignment
from service.api.asking import for_programs, token
from service.classes.alike import PairLine, told_lines, works_of
from service.jobs import open_job
from service.records import queries
from service.records.comparing import ComparedLine
from service.records.models import WAITING, Assignment, Submission


@pages.get("/assignments/<int:assignment_id>/alike")
@for_programs
def alike(assignment_id: int) -> Response:
    """What was found when it was last looked for."""
    return answer(_likeness(the_assignment(assignment_id)))


@pages.post("/assignments/<int:assignment_id>/alike")
@for_programs
def look_for_likeness(assignment_id: int) -> Response:
    """Have a worker look."""
    found = the_assignment(assignment_id)
    with carrying_out() as (session, _):
        job = open_job(session, COMPARE, found.id)
    send_all([job])
    return answer(_likeness(the_assignment(assignment_id)), 202)


def _likeness(found: Assignment) -> shapes.Likeness:
    told = Compared.model_validate(found.alike) if found.alike else None
    works = works_of(told, token().by) if told else {}
    pairs, shared = told_lines(told, works) if told else ((), ())
    own = _of_class(works)
    return shapes.Likeness(
        waiting=queries.job_state(web.reading(), COMPARE, found.id) == WAITING,
        works=told.works if told else None,
        left_out=told.left_out if told else 0,
        pairs=tuple(_pair(one, own) for one in pairs),
        shared=tuple(tuple(_work(work, own) for work in group.students) for group in shared),
    )


def _of_class(numbers: Iterable[int]) -> set[int]:
    """Those attempts that are of the token's class."""
    query = select(Submission.id).join(Assignment).where(Assignment.class_id == token().class_id)
    return set(web.reading().scalars(query.where(Submission.id.in_(list(numbers)))))


def _pair(one: PairLine, own: set[int]) -> shapes.LikePair:
    return shapes.LikePair(
        first=_work(one.first, own),
        other=_work(one.other, own),
        percent=one.percent,
        turned=one.turned,
        weak=one.weak,
        said=(one.likeness, one.rarity),
    )


def _work(one: ComparedLine, own: set[int]) -> shapes.LikeWork:
    return shapes.LikeWork(
        attempt_id=one.id if one.id in own else None,
        student_id=one.student_id if one.id in own else None,
        class_name=one.class_name,
        assignment=one.assignment,
        handed_in=moment(one.handed_in) or "",
    )
