"""Orders: all that a worker needs, and no more."""

from __future__ import annotations

import base64
from datetime import datetime

import pytest

from rubric.messages.names import DRAW, PLAN, PRINT
from rubric.messages.orders import DrawOrder, MarkOrder, PlanOrder, PrintOrder
from service.classes import plans
from service.classes.history import CORRECTED, Step, keep
from service.jobs import open_job
from service.marks import marks_now, total_up
from service.orders import order_for, place_on_board
from service.outcomes import read_outcome, record
from service.records.engine import Records
from service.records.models import Job, School, Submission
from tests.service import rows


def marked(records: Records, efficiency: float = 300.0) -> tuple[Job, int]:
    """The job of a sheet, and the submission it is about."""
    with records.write() as session:
        job = rows.handed_in(session)
        (sheet,) = record(session, read_outcome(rows.marked(job, efficiency))) or []
    return sheet, job.subject_id


def test_an_order_to_mark_holds_file_brief_and_rubric_and_no_name(records: Records) -> None:
    with records.write() as session:
        job = rows.handed_in(session)
        message = order_for(session, job)
    order = MarkOrder.model_validate(message)
    assert base64.b64decode(order.file_base64) == rows.TRUSS
    assert (order.job, order.attempt) == (job.id, job.attempt)
    assert (order.brief, order.rubric) == (rows.BRIEF, rows.RUBRIC)
    assert "Nell" not in str(message)


def test_an_order_to_draw_holds_the_brief(records: Records) -> None:
    with records.write() as session:
        job = open_job(session, DRAW, rows.assignment(session).id)
        assert DrawOrder.model_validate(order_for(session, job)).brief == rows.BRIEF


def test_an_order_to_print_says_whose_sheet_it_is(records: Records) -> None:
    sheet, about = marked(records)
    with records.write() as session:
        session.get_one(Submission, about).handed_in = datetime(2027, 3, 1, 13, 5)
    with records.read() as session:
        head = PrintOrder.model_validate(order_for(session, sheet)).head
    assert (head.student, head.class_name, head.teacher) == ("Nell Reed", "Otters", "Tess Birch")
    assert (head.school, head.attempt_number, head.file_name) == ("Millbrook School", 1, "bridge.yaml")
    assert head.handed_in == "Monday 1 March 2027, 14:05"
    assert (
        head.place
        == "When this sheet was printed, your best bridge was 1st of 1 by efficiency, among those that keep the limits."
    )


def test_a_sheet_carries_the_points_and_words_of_the_teacher(records: Records) -> None:
    sheet, about = marked(records)
    with records.write() as session:
        submission = session.get_one(Submission, about)
        submission.judgements = {"Sketch and reasons": {"points": 7, "comment": "A clear sketch."}}
        total_up(submission)
    with records.read() as session:
        order = PrintOrder.model_validate(order_for(session, sheet))
        kept = session.get_one(Submission, about)
        assert (order.outcome.marks.total, order.outcome.marks.waiting) == (82.0, 0.0)
        assert (kept.total, kept.waiting_points) == (82.0, 0.0)
        assert kept.outcome["marks"]["total"] == 75.0
    assert order.head.comment == "A clear sketch."


def test_a_submission_without_an_outcome_has_no_marks_and_no_sheet(records: Records) -> None:
    with records.write() as session:
        job = rows.handed_in(session)
        early = open_job(session, PRINT, job.subject_id)
        assert order_for(session, early) is None
        with pytest.raises(ValueError, match="without an outcome"):
            marks_now(session.get_one(Submission, job.subject_id))


def test_an_order_for_a_plan_holds_paper_and_truss_and_no_marks(records: Records) -> None:
    _, about = marked(records)
    with records.write() as session:
        job = plans.order(session, about, "A3", again=False)
        found = session.get_one(Submission, about)
        found.judgements = {"Sketch and reasons": {"points": 7, "comment": "Clear."}}
        found.corrections = {"It stands": {"points": 7, "comment": "Seen."}}
        keep(session, found, found.student_id, [Step(CORRECTED, "It stands")], 20.0)
        message = order_for(session, job)
    order = PlanOrder.model_validate(message)
    assert (order.job, order.attempt, order.head.paper) == (job.id, job.attempt, "A3")
    assert (order.head.student, order.analysis.state) == ("Nell Reed", "stable")
    assert (order.head.place, order.head.comment) == ("", "")
    assert order.head.corrected == {}
    assert "Clear." not in str(message)
    assert "marks" not in message


@pytest.mark.parametrize("kind", [DRAW, PRINT, PLAN])
def test_there_is_no_order_about_what_is_gone(records: Records, kind: str) -> None:
    with records.write() as session:
        assert order_for(session, open_job(session, kind, 4711)) is None


def test_places_count_each_student_once_by_the_best_attempt(either: Records) -> None:
    with either.write() as session:
        given = rows.assignment(session)
        ours, other = (rows.student(session, given, name) for name in ("Nell Reed", "Otto Vale"))
        tries = [(ours, 1, 300.0), (ours, 2, 250.0), (other, 1, 200.0), (other, 2, 400.0)]
        for person, number, efficiency in tries:
            record(session, read_outcome(rows.marked(rows.hand_in(session, given, person, number), efficiency)))
        places = {one.student.name: place_on_board(session, one) for one in session.query(Submission)}
    assert "was 2nd of 2 by" in places["Nell Reed"]
    assert "was 1st of 2 by" in places["Otto Vale"]


def test_a_truss_off_the_board_has_no_place(records: Records) -> None:
    with records.write() as session:
        job = rows.handed_in(session)
        record(session, read_outcome(rows.marked(job, on_board=False)))
        assert place_on_board(session, session.get_one(Submission, job.subject_id)) == ""


def test_an_unknown_zone_falls_back_to_utc(records: Records) -> None:
    sheet, about = marked(records)
    with records.write() as session:
        session.query(School).one().zone = "Moon/Tranquility"
        session.get_one(Submission, about).handed_in = datetime(2027, 3, 1, 13, 5)
    with records.read() as session:
        assert order_for(session, sheet)["head"]["handed_in"] == "Monday 1 March 2027, 13:05"
