"""Pages of the leaderboards: aliases only, never a name."""

from __future__ import annotations

from flask import Blueprint, abort, render_template

from rubric.language import _
from service import web
from service.classes.setting import rubric_of
from service.contest.board import SHOWN, Standing, own_standing, places
from service.records import queries

pages = Blueprint("contest", __name__)


@pages.get("/boards/assignments/<int:assignment_id>")
def assignment_board(assignment_id: int) -> str:
    """The board of one class at one assignment."""
    found = queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)
    lines = queries.assignment_board(web.reading(), found.id)
    return _page(
        found.title, _("Class {name}", name=found.school_class.name), lines, rubric_of(found.newest).attempts.counts
    )


@pages.get("/boards/contests/<int:contest_id>")
def contest_board(contest_id: int) -> str:
    """The board of a contest over all its classes."""
    found = queries.contest(web.reading(), web.person(), contest_id) or abort(404)
    rules = {rubric_of(one.newest).attempts.counts for one in queries.assignments_of(web.reading(), found.id)}
    lines = queries.contest_board(web.reading(), found.id)
    return _page(found.title, _("All classes of the contest"), lines, rules.pop() if len(rules) == 1 else "best")


def _page(title: str, who: str, lines: list[queries.BoardLine], counts: str) -> str:
    standing: Standing | None = own_standing(lines, web.person().id)
    shown = [place for place in places(lines) if place.rank <= SHOWN]
    wanted = [place.submission_id for place in shown] + ([standing.place.submission_id] if standing else [])
    return render_template(
        "board.html",
        title=title,
        who=who,
        counts=counts,
        places=shown,
        standing=standing,
        details=queries.loads_and_masses(web.reading(), wanted),
        count=len(lines),
    )
