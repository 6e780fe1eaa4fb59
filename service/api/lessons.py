"""What programs may learn of a class's work or of a contest as a whole, and texts that they have checked."""

from __future__ import annotations

from typing import Any

from werkzeug.wrappers import Response

from rubric.contest.factor import Factor
from rubric.contest.rules import read_rules
from service import web
from service.api import lesson_shapes as shapes
from service.api.answering import answer, pages, the_assignment
from service.api.asking import body_as, for_programs, token
from service.api.contest_rows import the_contest, the_standings
from service.api.shapes import FileProblem
from service.classes import insight as seen
from service.classes.checking import Checked, check, checked
from service.classes.insight_desk import works_that_count
from service.classes.questions import questions
from service.contest.lesson import Tested, lesson


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


@pages.get("/contests/<int:contest_id>/prediction")
@for_programs
def prediction(contest_id: int) -> Response:
    """What was predicted beside what was measured, bridge by bridge."""
    found = lesson(the_standings(the_contest(contest_id)))
    return answer(
        shapes.Prediction(
            items=tuple(map(_tested, found.tested)),
            factor=_factor(found.factor) if found.factor else None,
            proposals=tuple(
                shapes.StrengthProposal(mode=one.mode, what=one.what, factor=_factor(one.factor))
                for one in found.proposals
            ),
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


def _tested(one: Tested) -> shapes.TestedBridge:
    bridge = one.result.bridge
    return shapes.TestedBridge(
        number=bridge.number,
        alias=bridge.alias,
        division=bridge.division,
        predicted_N=bridge.predicted_N or 0.0,
        measured_N=one.result.load_N or 0.0,
        member=one.member,
        mode=one.mode,
        broke=one.broke.where,
        how=one.broke.how,
        as_predicted=one.as_predicted if one.told else None,
    )


def _factor(found: Factor) -> shapes.LoadFactor:
    return shapes.LoadFactor(**vars(found))


def _problems(file: str, one: Checked[Any]) -> tuple[FileProblem, ...]:
    return tuple(FileProblem(file=file, **vars(line.problem)) for line in one.problems)
