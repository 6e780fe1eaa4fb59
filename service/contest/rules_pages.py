"""Writing the rules of a contest in the browser: checked while somebody types, with what would change."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from rubric import library
from rubric.contest.rules import ContestRules, read_rules
from rubric.language import _
from rubric.problems import Refused
from service import web
from service.classes.checking import Checked, checked
from service.contest import rulebook
from service.contest.reaching import contest_or_404, coordinator_only
from service.contest.rules_compared import MOST_MOVES, compared, in_words
from service.records.models import Contest

pages = Blueprint("contest_rules", __name__)


@pages.get("/staff/contests/<int:contest_id>/rules")
@coordinator_only
def rules(contest_id: int) -> str:
    """The rules as they stand, as an earlier version had them, or ready ones to start from."""
    contest = contest_or_404(contest_id)
    versions = rulebook.versions(web.reading(), contest.id)
    wanted = request.args.get("version", "")
    text = next((one.text for one in versions if str(one.number) == wanted), versions[-1].text if versions else "")
    return _page(contest, text or library.contest_text(library.contest_names()[0]).decode())


@pages.post("/staff/contests/<int:contest_id>/rules")
@coordinator_only
def write(contest_id: int) -> str | Response | tuple[str, int]:
    """Check what was typed, or save it as the next version."""
    contest = contest_or_404(contest_id)
    text = _typed()
    if request.form.get("do") != "save":
        return _page(contest, text, looked=True)
    try:
        with web.writing() as session:
            kept = session.get_one(Contest, contest.id)
            rulebook.save(session, kept, text, request.form.get("why", ""), web.person().id)
    except Refused:
        return _page(contest, text), 422
    except rulebook.Refusal as refused:
        return _page(contest, text, problem=str(refused)), 422
    flash(_("The rules are saved."))
    return redirect(url_for("contest_desk.desk", contest_id=contest.id), 303)


@pages.post("/staff/contests/<int:contest_id>/rules/check")
@coordinator_only
def check_typed(contest_id: int) -> str:
    """What is to be said beside the text, for the script to put in place."""
    return render_template("contest-rules-said.html", **_said(contest_or_404(contest_id), _typed()))


def _typed() -> str:
    return request.form.get("rules", "").replace("\r\n", "\n")


def _said(contest: Contest, text: str) -> dict[str, Any]:
    read: Checked[ContestRules] = checked(text, read_rules)
    session = web.reading()
    return {
        "read": read,
        "words": in_words(read.value) if read.value else (),
        "change": compared(session, contest.id, read.value) if read.value else None,
        "version": rulebook.newest(session, contest.id),
        "most_moves": MOST_MOVES,
    }


def _page(contest: Contest, text: str, looked: bool = False, problem: str = "") -> str:
    versions = rulebook.versions(web.reading(), contest.id)
    said = _said(contest, text)
    return render_template(
        "contest-rules.html", contest=contest, looked=looked, problem=problem, versions=versions, **said
    )
