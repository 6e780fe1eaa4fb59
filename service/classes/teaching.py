"""Pages of teachers and coordinators: their classes, a class at one assignment, downloads, notices."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

from flask import Blueprint, Response, abort, flash, redirect, render_template, request, url_for
from markupsafe import Markup
from werkzeug.wrappers import Response as Redirect

from rubric.language import _
from service import web
from service.classes import class_rows, overview
from service.classes.class_rows import Head
from service.classes.mark_book import as_csv
from service.classes.pack import pack
from service.classes.setting import rubric_of
from service.classes.sheets import archive
from service.people.enrol import SignIn, new_secret
from service.people.guards import staff_only
from service.records import at_the_desk, queries, second_markings
from service.records.acts import note
from service.records.models import Assignment, Notice, Person, Sheet
from service.rendering import zone
from service.saying import file_word

pages = Blueprint("teaching", __name__)

ON_A_PAGE = 100
"""Students in one table: every class of a school, and a year group in parts."""


@pages.get("/staff")
@staff_only
def staff_desk() -> str:
    """Classes with their assignments, notices, contests."""
    session, person = web.reading(), web.person()
    every = queries.classes_of(session, person)
    classes = [one for one in every if one.archived_at is None]
    counts = {a.id: queries.counts(session, a.id) for found in classes for a in found.assignments}
    return render_template(
        "staff.html",
        classes=classes,
        put_away=[one for one in every if one.archived_at is not None],
        counts=counts,
        asked=at_the_desk.asked_aliases(session, person),
        contests=queries.contests_of(session, person),
        notices=queries.open_notices(session, person),
        second_open=sum(one.done_at is None for one in second_markings.asked_of(session, person)),
    )


@pages.get("/staff/assignments/<int:assignment_id>")
@staff_only
def class_table(assignment_id: int) -> str:
    """Who handed in, how far it is, the marks that count."""
    found = found_assignment(assignment_id)
    heads = _heads(found)
    table, version = _table(found, heads)
    return render_template(
        "class-table.html",
        assignment=found,
        table=table,
        version=version,
        wanted=_wanted(),
        name=_name(),
        everybody=len(heads),
        by_state=[(state, sum(head.state == state for head in heads)) for state in overview.STATES],
        here=request.full_path,
        notices=[pair for pair in _notices() if pair[0].class_id == found.class_id],
        held=sum(head.held for head in heads),
        earlier=sum(head.earlier for head in heads),
        printed=any(head.printed for head in heads),
        not_printed=sum(head.counts_id is not None and not head.printed for head in heads),
    )


@pages.get("/staff/assignments/<int:assignment_id>/rows")
@staff_only
def table_rows(assignment_id: int) -> Response:
    """The table alone, for the script that keeps it up to date; nothing where it is what was seen last."""
    found = found_assignment(assignment_id)
    table, version = _table(found, _heads(found))
    if request.args.get("seen") == version:
        return Response(status=204)
    return Response(table, headers={"X-Version": version}, content_type="text/html; charset=utf-8")


@pages.get("/staff/assignments/<int:assignment_id>/marks.csv")
@staff_only
def marks(assignment_id: int) -> Response:
    """The marks for a spreadsheet."""
    found = found_assignment(assignment_id)
    board = queries.assignment_board(web.reading(), found.id)
    data = as_csv(rows_of(found), board, zone(), semicolons=request.args.get("cells") == "semicolons")
    return Response(data, headers=download(found, "marks", "csv"), content_type="text/csv; charset=utf-8")


@pages.get("/staff/assignments/<int:assignment_id>/sheets.zip")
@staff_only
def sheets(assignment_id: int) -> Response:
    """All printed sheets."""
    found = found_assignment(assignment_id)
    data = archive(web.records(), queries.sheets_of(web.reading(), found.id))
    return Response(data, headers=download(found, "sheets", "zip"), content_type="application/zip")


@pages.get("/staff/assignments/<int:assignment_id>/sheets.pdf")
@staff_only
def sheets_to_print(assignment_id: int) -> Response | Redirect:
    """The sheet of each student whose attempt that counts is released, in the order of the class, two-sided."""
    found = found_assignment(assignment_id)
    data = class_sheets(found)
    if data is None:
        flash(_("No sheet of an attempt that counts is printed yet."))
        return redirect(url_for("teaching.class_table", assignment_id=found.id), 303)
    return Response(data, headers=download(found, "sheets", "pdf"), content_type="application/pdf")


@pages.get("/staff/classes/<int:class_id>")
@staff_only
def class_list(class_id: int) -> str:
    """The students of a class, with a way to give one a new passphrase."""
    found = queries.school_class(web.reading(), web.person(), class_id) or abort(404)
    return render_template("class-list.html", school_class=found)


@pages.post("/staff/students/<int:student_id>/passphrase")
@staff_only
def passphrase(student_id: int) -> str:
    """Give a student a new passphrase and show it once."""
    found = queries.student(web.reading(), web.person(), student_id) or abort(404)
    with web.writing() as session:
        sign_in: SignIn = new_secret(session, session.get_one(Person, found.id))
        note(session, web.person().id, "new sign-in", "person", found.id)
    return render_template("passphrase.html", sign_in=sign_in, class_id=found.class_id)


@pages.post("/notices/<int:notice_id>/settle")
@staff_only
def settle(notice_id: int) -> Redirect:
    """Put a notice away."""
    found = queries.notice(web.reading(), web.person(), notice_id) or abort(404)
    with web.writing() as session:
        session.get_one(Notice, found.id).settled = True
    flash(_("The notice is settled."))
    return redirect(url_for("teaching.staff_desk"), 303)


def found_assignment(assignment_id: int) -> Assignment:
    """An assignment of a class of whoever asks, else no page."""
    return queries.assignment(web.reading(), web.person(), assignment_id) or abort(404)


def _heads(found: Assignment) -> list[Head]:
    return class_rows.heads(web.reading(), found, rubric_of(found.newest).attempts)


def _table(found: Assignment, heads: Sequence[Head]) -> tuple[Markup, str]:
    """The table as far as it is wanted, and a short word that is another one when the table is."""
    word = _name().casefold()
    chosen = [head for head in heads if _wanted() in ("", head.state) and word in head.name.casefold()]
    last = max(1, -(-len(chosen) // ON_A_PAGE))
    number = min(max(request.args.get("page", 1, type=int), 1), last)
    html = render_template(
        "class-table-rows.html",
        assignment=found,
        rows=class_rows.full(web.reading(), chosen[(number - 1) * ON_A_PAGE : number * ON_A_PAGE]),
        found=len(chosen),
        wanted=_wanted(),
        name=_name(),
        number=number,
        last=last,
        everybody=len(heads),
        handed_in=sum(head.newest_id is not None for head in heads),
        to_judge=sum(head.to_judge for head in heads),
        counts=rubric_of(found.newest).attempts.counts,
    )
    return Markup(html), hashlib.sha256(html.encode()).hexdigest()[:16]  # noqa: S704  # nosec B704


def _wanted() -> str:
    state = request.args.get("state", "")
    return state if state in overview.STATES else ""


def _name() -> str:
    """Part of a name, where only such students are wanted."""
    return " ".join(request.args.get("name", "").split())[:80]


def _notices() -> list[tuple[Notice, str]]:
    return list(queries.open_notices(web.reading(), web.person()))


def class_sheets(found: Assignment) -> bytes | None:
    """The sheets of a class that count and are released, as one PDF in the class's order; None where there is none."""
    counting = [(row.student.name, row.counts.id) for row in rows_of(found) if row.counts and not row.counts.held]
    printed = ((name, web.reading().get(Sheet, number)) for name, number in counting)
    sheets = [(name, sheet.pdf) for name, sheet in printed if sheet is not None]
    title = _("{title}, class {school_class}", title=found.title, school_class=found.school_class.name)
    return pack(title, sheets) if sheets else None


def rows_of(found: Assignment) -> list[overview.Row]:
    """The class at an assignment, as it stands now."""
    return class_rows.full(web.reading(), _heads(found))


def download(found: Assignment, what: str, ending: str) -> dict[str, str]:
    """The head of an answer that is kept as a file."""
    name = f"{what}-{file_word(found.school_class.code, 'class')}-{file_word(found.title, str(found.id))}.{ending}"
    return {"Content-Disposition": f'attachment; filename="{name}"'}
