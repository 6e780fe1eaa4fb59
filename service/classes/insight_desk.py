"""The page of what a class's work shows, for its teachers."""

from __future__ import annotations

from flask import Blueprint, abort, render_template
from sqlalchemy.orm import Session

from rubric.messages.outcomes import Marked
from rubric.wording import SHORT_MODES
from service import web
from service.classes import insight, overview
from service.classes.bars import bar
from service.classes.questions import questions
from service.classes.setting import rubric_of
from service.marks import marks_now
from service.people.guards import staff_only
from service.records import queries
from service.records.models import Assignment, Person

pages = Blueprint("insight", __name__)


@pages.get("/staff/assignments/<int:assignment_id>/insight")
@staff_only
def shown(assignment_id: int) -> str:
    """How marks spread, what lost most, what failed, and three questions worth a lesson."""
    found = queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)
    works = works_that_count(web.reading(), web.person(), found)
    spreads = insight.spreads(works)
    analyses = [work.outcome.analysis for work in works if work.outcome.analysis]
    return render_template(
        "insight.html",
        assignment=found,
        students=len(found.school_class.students),
        standing=insight.standing(works),
        spreads=spreads,
        most_lost=insight.most_lost(spreads),
        bands=insight.BANDS,
        failures=insight.failures(analyses),
        mode_names=SHORT_MODES,
        questions=questions(works),
        bar=bar,
    )


def works_that_count(session: Session, person: Person, found: Assignment) -> list[insight.Seen]:
    """The work of each student that counts, for somebody who teaches the class or looks after it."""
    lines = queries.attempts(session, person, found.id)
    rows = overview.rows(found.school_class.students, lines, rubric_of(found.newest).attempts)
    counting = [row.counts.id for row in rows if row.counts]
    return [
        insight.Seen(marks_now(one), Marked.model_validate(one.outcome))
        for one in queries.marked_works(session, person, counting)
    ]
