"""The marks of an assignment for people and for other programs."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any

from flask import Blueprint, Response, render_template, request

from service import web
from service.classes import reports
from service.classes.oneroster_results import LineItem, archive, numbered, status
from service.classes.overview import Row
from service.classes.setting import rubric_of
from service.classes.teaching import download, found_assignment, rows_of
from service.people.guards import staff_only
from service.people.lists.oneroster import LONGEST_ID
from service.records.models import Assignment, SchoolClass, now

pages = Blueprint("handing_on", __name__)


@pages.get("/staff/assignments/<int:assignment_id>/marks")
@staff_only
def choices(assignment_id: int) -> str:
    """The forms in which the marks can be had."""
    found = found_assignment(assignment_id)
    rows = rows_of(found)
    left = [row.student.name for row in rows if not row.student.roster_number]
    held = sum(1 for row in rows if row.counts and row.counts.held)
    return render_template(
        "handing-on.html",
        assignment=found,
        rows=rows,
        left=left,
        held=held,
        key=own_key(found.school_class),
        report=reports.state_of(web.reading(), found.id),
        papers=reports.PAPERS,
    )


@pages.get("/staff/assignments/<int:assignment_id>/marks.json")
@staff_only
def as_json(assignment_id: int) -> Response:
    """The marks as JSON: times are UTC with a Z, numbers are numbers, null is not there yet."""
    found = found_assignment(assignment_id)
    value = {
        "assignment": {"id": found.id, "title": found.title, "due": _time(found.due)},
        "class": {"code": found.school_class.code, "name": found.school_class.name},
        "students": [_student(row) for row in rows_of(found)],
    }
    text = json.dumps(value, ensure_ascii=False, indent=2) + "\n"
    return Response(text, headers=download(found, "marks", "json"), content_type="application/json")


@pages.get("/staff/assignments/<int:assignment_id>/oneroster.zip")
@staff_only
def oneroster(assignment_id: int) -> Response:
    """Result files for a mark book that takes OneRoster CSV in."""
    found = found_assignment(assignment_id)
    key = " ".join(request.args.get("class", "").split())[:LONGEST_ID] or own_key(found.school_class)
    data = results(found, key)
    return Response(data, headers=download(found, "oneroster-results", "zip"), content_type="application/zip")


def results(found: Assignment, key: str) -> bytes:
    """The result files of an assignment, under what the mark book calls the class."""
    item = LineItem(
        number=found.id,
        title=found.title,
        class_key=key,
        set_at=found.versions[0].made_at,
        due=found.due,
        out_of=rubric_of(found.newest).full,
    )
    return archive(item, numbered(rows_of(found)), now())


def own_key(school_class: SchoolClass) -> str:
    """What the mark book should call a class: as its class list said, else the code of the class."""
    return school_class.sourced_id or school_class.code


def _student(row: Row) -> dict[str, Any]:
    counts, dated = row.counts, row.counts or row.newest
    return {
        "id": row.student.id,
        "name": row.student.name,
        "number": row.student.roster_number,
        "state": row.state,
        "status": status(row),
        "attempts": row.attempts,
        "attempt": counts.number if counts else None,
        "points": counts.total if counts else None,
        "out_of": counts.out_of if counts else None,
        "waiting_points": counts.waiting_points if counts else None,
        "released": not counts.held if counts else None,
        "handed_in": _time(dated.handed_in) if dated else None,
        "late": row.late,
        "best_efficiency": row.best_efficiency,
    }


def _time(moment: datetime | None) -> str | None:
    return f"{moment:%Y-%m-%dT%H:%M:%SZ}" if moment else None
