"""What programs fetch of a class: files as handed in, building plans, sheets, marks for other programs."""

from __future__ import annotations

from flask import Response
from werkzeug.wrappers import Response as AnyResponse

from service import web
from service.api import paper_shapes as shapes
from service.api.answering import answer, carrying_out, pages, send_all, the_assignment, the_attempt
from service.api.asking import body_as, for_programs
from service.api.operation import CSV, PDF, TEXT, ZIP
from service.api.problems import Refusal
from service.classes import plans
from service.classes.handing_on import own_key, results
from service.classes.mark_book import as_csv
from service.classes.sheets import archive
from service.classes.teaching import class_sheets, rows_of
from service.records import queries
from service.records.models import Plan, Submission
from service.rendering import zone


@pages.get("/attempts/<int:attempt_id>/file")
@for_programs
def attempt_file(attempt_id: int) -> AnyResponse:
    """The file as it was handed in."""
    return Response(the_attempt(attempt_id).file, content_type=TEXT)


@pages.post("/attempts/<int:attempt_id>/plan")
@for_programs
def order_plan(attempt_id: int) -> AnyResponse:
    """Have its building plan drawn."""
    found, new = the_attempt(attempt_id), body_as(shapes.NewPlan)
    try:
        with carrying_out() as (session, _):
            job = plans.order(session, found.id, new.paper, again=True)
    except plans.NotDrawn as error:
        raise Refusal(409, "Not drawn", str(error)) from None
    send_all([job])
    return answer(_plan(the_attempt(attempt_id)), 202)


@pages.get("/attempts/<int:attempt_id>/plan")
@for_programs
def plan(attempt_id: int) -> AnyResponse:
    """Its building plan."""
    found = the_attempt(attempt_id)
    drawn = web.reading().get(Plan, found.id)
    if drawn is None:
        raise Refusal(404, "No plan", "Nobody asked for the building plan of this attempt.")
    if drawn.pdf is None:
        raise Refusal(409, "Not drawn", f"The building plan is {plans.state_of(web.reading(), found).stage}.")
    return Response(drawn.pdf, content_type=PDF)


@pages.get("/assignments/<int:assignment_id>/sheets")
@for_programs
def all_sheets(assignment_id: int) -> AnyResponse:
    """All sheets that are printed and released; made while it is sent."""
    found = the_assignment(assignment_id)
    return Response(archive(web.records(), queries.sheets_of(web.reading(), found.id)), content_type=ZIP)


@pages.get("/assignments/<int:assignment_id>/pack")
@for_programs
def class_pack(assignment_id: int) -> AnyResponse:
    """The sheets that count, as one PDF."""
    data = class_sheets(the_assignment(assignment_id))
    if data is None:
        raise Refusal(404, "No sheet", "No sheet of an attempt that counts is printed yet.")
    return Response(data, content_type=PDF)


@pages.get("/assignments/<int:assignment_id>/mark-book")
@for_programs
def mark_book(assignment_id: int) -> AnyResponse:
    """The marks for a spreadsheet, on the school's clock."""
    found = the_assignment(assignment_id)
    data = as_csv(rows_of(found), queries.assignment_board(web.reading(), found.id), zone())
    return Response(data, content_type=CSV)


@pages.get("/assignments/<int:assignment_id>/oneroster")
@for_programs
def oneroster_results(assignment_id: int) -> AnyResponse:
    """Result files for a mark book that takes OneRoster CSV in."""
    found = the_assignment(assignment_id)
    return Response(results(found, own_key(found.school_class)), content_type=ZIP)


def _plan(found: Submission) -> shapes.Plan:
    state = plans.state_of(web.reading(), found)
    return shapes.Plan(attempt_id=found.id, paper=state.paper, stage=state.stage)  # type: ignore[arg-type]
