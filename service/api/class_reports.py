"""What programs may do about the report of a class: have it set, and fetch it."""

from __future__ import annotations

from flask import Response
from werkzeug.wrappers import Response as AnyResponse

from service import web
from service.api import work_shapes as shapes
from service.api.answering import answer, carrying_out, moment, pages, send_all, the_assignment
from service.api.asking import body_as, for_programs
from service.api.operation import PDF
from service.api.problems import Refusal
from service.classes import reports
from service.records.report_models import ClassReport


@pages.get("/assignments/<int:assignment_id>/report")
@for_programs
def class_report(assignment_id: int) -> AnyResponse:
    """The report as it was last set."""
    made = web.reading().get(ClassReport, the_assignment(assignment_id).id)
    if made is None or made.pdf is None:
        raise Refusal(409, "No report", "No report is set, or not yet. Ask for one, then try again in a few seconds.")
    return Response(made.pdf, content_type=PDF)


@pages.post("/assignments/<int:assignment_id>/report")
@for_programs
def set_report(assignment_id: int) -> AnyResponse:
    """Have a worker set it."""
    found, new = the_assignment(assignment_id), body_as(shapes.NewReport)
    try:
        with carrying_out() as (session, who):
            job = reports.order(session, found.id, who, new.paper)
    except reports.NotSet as error:
        raise Refusal(409, "No report is set now", str(error)) from None
    send_all([job])
    state = reports.state_of(web.reading(), found.id)
    return answer(shapes.Report(stage=state.stage, paper=state.paper, made_at=moment(state.made_at)), 202)
