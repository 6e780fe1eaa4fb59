"""What programs may learn of a class's work as a whole, and texts that they have checked."""

from __future__ import annotations

from typing import Any

from werkzeug.wrappers import Response

from rubric.contest.rules import read_rules
from service import web
from service.api import lesson_shapes as shapes
from service.api.answering import answer, pages, the_assignment
from service.api.asking import body_as, for_programs, token
from service.api.shapes import FileProblem
from service.classes import insight as seen
from service.classes.checking import Checked, check, checked
from service.classes.insight_desk import works_that_count
from service.classes.questions import questions


@pages.get("/assignments/<int:assignment_id>/insight")
@for_programs
def insight(assignment_id: int) -> Response:
    """How marks spread, what lost most, what failed, and questions worth a lesson."""
    found = the_assignment(assignment_id)
    works = works_that_count(web.reading(), token().by, found)
    failing = seen.failures([work.outcome.analysis for work in works if work.outcome.analysis])
    return answer(
        shapes.Insight(
            students=len(found.school_class.students),
            standing=shapes.Standing(**vars(seen.standing(works))),
            criteria=tuple(shapes.CriterionSpread(**vars(one)) for one in seen.spreads(works)),
            failures=tuple(shapes.MembersFailing(**vars(one)) for one in failing),
            questions=tuple(shapes.LessonQuestion(**vars(one)) for one in questions(works)),
        )
    )


@pages.post("/check")
@for_programs
def check_brief() -> Response:
    """A brief and a rubric."""
    new = body_as(shapes.NewCheck)
    both = check(new.brief, new.rubric)
    problems = (*_problems("brief", both.brief), *_problems("rubric", both.rubric))
    return answer(shapes.TextsChecked(problems=problems, remarks=both.remarks))


@pages.post("/check-rules")
@for_programs
def check_rules() -> Response:
    """Rules of a contest."""
    new = body_as(shapes.RulesToCheck)
    return answer(shapes.TextsChecked(problems=_problems("rules", checked(new.rules, read_rules)), remarks=()))


def _problems(file: str, one: Checked[Any]) -> tuple[FileProblem, ...]:
    return tuple(FileProblem(file=file, **vars(line.problem)) for line in one.problems)
