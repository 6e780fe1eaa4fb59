"""What programs fetch of a contest: board, files, labels, certificates and booklet, records of the school."""

from __future__ import annotations

import json

from flask import Response, request
from werkzeug.wrappers import Response as AnyResponse

from rubric.messages.names import AWARD
from service import web
from service.api import paper_shapes as shapes
from service.api.answering import answer, carrying_out, pages, send_all
from service.api.asking import body_as, for_programs
from service.api.contest_rows import the_contest, the_standings
from service.api.operation import CSV, PDF
from service.api.problems import Refusal
from service.api.programs import board_shape
from service.contest import award_pages, entering, file_pages, publishing
from service.contest.labels import labels
from service.records import queries
from service.records.contest_models import ContestPrint
from service.records.models import FAILED


@pages.get("/contests/<int:contest_id>/board")
@for_programs
def contest_board(contest_id: int) -> AnyResponse:
    """The board of its classes."""
    return answer(board_shape(queries.contest_board(web.reading(), the_contest(contest_id).id)))


@pages.get("/contests/<int:contest_id>/list-table")
@for_programs
def list_table(contest_id: int) -> AnyResponse:
    """The official list as it stands."""
    return Response(file_pages.table_of(the_standings(the_contest(contest_id))), content_type=CSV)


@pages.get("/contests/<int:contest_id>/everything")
@for_programs
def everything(contest_id: int) -> AnyResponse:
    """All that the contest keeps."""
    found = file_pages.everything_of(web.reading(), the_contest(contest_id))
    return answer(shapes.ContestInFull(everything=json.loads(json.dumps(found, default=str))))


@pages.get("/contests/<int:contest_id>/labels")
@for_programs
def bridge_labels(contest_id: int) -> AnyResponse:
    """Labels of the bridges."""
    made = labels(entering.entered(web.reading(), the_contest(contest_id).id), request.url_root)
    items = (
        shapes.BridgeLabel(
            number=one.entry.number,
            alias=one.entry.student.alias,
            division=one.entry.division,
            address=one.address,
            code=str(one.code),
        )
        for one in made
    )
    return answer(shapes.BridgeLabels(items=tuple(items)))


@pages.post("/contests/<int:contest_id>/awards")
@for_programs
def order_award(contest_id: int) -> AnyResponse:
    """Have certificates or the booklet set, of the list published last."""
    found, new = the_contest(contest_id), body_as(shapes.NewAward)
    with carrying_out() as (session, _):
        job = award_pages.order(session, found.id, new.what, new.paper)
    send_all([job])
    return answer(_award(_print(contest_id, new.what)), 202)


@pages.get("/contests/<int:contest_id>/certificates")
@for_programs
def certificates(contest_id: int) -> AnyResponse:
    """The certificates: they name pupils of every class that took part."""
    return _pdf(_print(contest_id, "certificates"))


@pages.get("/contests/<int:contest_id>/booklet")
@for_programs
def booklet(contest_id: int) -> AnyResponse:
    """The booklet."""
    return _pdf(_print(contest_id, "booklet"))


@pages.get("/contests/<int:contest_id>/records")
@for_programs
def school_records(contest_id: int) -> AnyResponse:
    """Winning results of all years."""
    the_contest(contest_id)
    return answer(_records())


@pages.post("/contests/<int:contest_id>/records")
@for_programs
def note_record(contest_id: int) -> AnyResponse:
    """Note a result of an earlier year."""
    the_contest(contest_id)
    new = body_as(shapes.NewSchoolRecord)
    with carrying_out() as (session, _):
        publishing.note_record(session, str(new.year), new.title, new.alias, f"{new.efficiency:.9g}")
    return answer(_records(), 201)


def _print(contest_id: int, what: str) -> ContestPrint:
    found = award_pages.prints(web.reading(), the_contest(contest_id).id).get(what)
    if found is None:
        raise Refusal(404, "Not there", f"Nobody asked for the {what} of this contest.")
    return found


def _pdf(found: ContestPrint) -> Response:
    if found.pdf is None:
        raise Refusal(404, "Not there", f"It is {_award(found).stage}. Ask again in a few seconds, or order it again.")
    return Response(found.pdf, content_type=PDF)


def _award(found: ContestPrint) -> shapes.Award:
    failed = queries.job_state(web.reading(), AWARD, found.id) == FAILED
    stage = "ready" if found.pdf is not None else "failed" if failed else "waiting"
    return shapes.Award(what=found.what, list_number=found.list_number, paper=found.paper, stage=stage)  # type: ignore[arg-type]


def _records() -> shapes.SchoolRecords:
    items = (
        shapes.SchoolRecord(
            year=one.year,
            title=one.contest_title,
            division=one.division,
            alias=one.alias,
            efficiency=one.efficiency,
            load_N=one.load_N,
            mass_g=one.mass_g,
        )
        for one in publishing.records(web.reading())
    )
    return shapes.SchoolRecords(items=tuple(items))
