"""Outcomes: checked like anything from outside, written once."""

from __future__ import annotations

import json
import threading
from typing import Any

import pytest

from rubric.messages.names import DRAW, MARK, PLAN, PRINT
from rubric.messages.outcomes import Drawn, Figure, Marked
from service.classes import plans
from service.jobs import open_job
from service.outcomes import OutcomeRefused, read_outcome, record
from service.records.engine import Records
from service.records.models import DONE, MARKED, RECEIVED, WAITING, Assignment, Job, Plan, Sheet, Submission
from tests.service import rows
from worker import marker


def handed_in(records: Records) -> Job:
    with records.write() as session:
        return rows.handed_in(session)


def recorded(records: Records, message: dict[str, Any]) -> list[Job] | None:
    with records.write() as session:
        return record(session, read_outcome(message))


def test_a_marked_outcome_fills_the_submission_and_orders_its_sheet(either: Records) -> None:
    job = handed_in(either)
    (sheet,) = recorded(either, rows.marked(job)) or []
    assert (sheet.kind, sheet.state, sheet.subject_id) == (PRINT, WAITING, job.subject_id)
    with either.read() as session:
        found = session.get_one(Submission, job.subject_id)
        assert (found.state, found.on_board, found.stable, found.has_mistakes) == (MARKED, True, True, False)
        assert (found.total, found.out_of, found.waiting_points) == (75.0, 100.0, 10.0)
        assert (found.efficiency, found.outcome["job"]) == (300.0, job.id)
        assert session.get_one(Job, job.id).state == DONE


def test_an_outcome_is_kept_to_the_last_byte(either: Records) -> None:
    """On either database, after its journey as JSON: what a worker said is what is read, every digit of it."""
    job = handed_in(either)
    sent = marker.mark_file(rows.TRUSS, rows.BRIEF, rows.RUBRIC, job.id, job.attempt)
    recorded(either, json.loads(sent.model_dump_json()))
    with either.read() as session:
        kept = session.get_one(Submission, job.subject_id).outcome
    apart = sent.model_copy(update={"fingerprint": None})  # kept in a column of its own
    assert Marked.model_validate(kept).model_dump_json() == apart.model_dump_json()


def test_of_two_answers_to_one_round_the_first_alone_counts(either: Records) -> None:
    job = handed_in(either)
    assert recorded(either, rows.marked(job, 300.0)) is not None
    assert recorded(either, rows.marked(job, 999.0)) is None
    with either.read() as session:
        assert session.get_one(Submission, job.subject_id).efficiency == 300.0
        assert session.query(Job).filter_by(kind=PRINT).count() == 1


def test_of_eight_answers_at_once_exactly_one_counts(either: Records) -> None:
    job = handed_in(either)
    counted: list[bool] = []

    def answer(efficiency: float) -> None:
        counted.append(recorded(either, rows.marked(job, efficiency)) is not None)

    threads = [threading.Thread(target=answer, args=(100.0 + n,)) for n in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(counted) == [False] * 7 + [True]


@pytest.mark.parametrize("change", [{"attempt": "made up"}, {"job": 4711}])
def test_an_answer_that_nobody_waits_for_is_left_out(either: Records, change: dict[str, Any]) -> None:
    job = handed_in(either)
    assert recorded(either, rows.marked(job, **change)) is None
    with either.read() as session:
        assert session.get_one(Submission, job.subject_id).state == RECEIVED


def test_a_sheet_cannot_answer_an_order_to_mark(either: Records) -> None:
    job = handed_in(either)
    assert recorded(either, rows.printed(job)) is None


def test_a_sheet_printed_again_replaces_the_one_before(either: Records) -> None:
    job = handed_in(either)
    (sheet,) = recorded(either, rows.marked(job)) or []
    assert recorded(either, rows.printed(sheet, b"%PDF-1.7 first")) == []
    with either.write() as session:
        again = open_job(session, PRINT, job.subject_id)
    assert recorded(either, rows.printed(sheet, b"%PDF-1.7 late")) is None
    assert recorded(either, rows.printed(again, b"%PDF-1.7 second")) == []
    with either.read() as session:
        assert session.query(Sheet).one().pdf == b"%PDF-1.7 second"


def with_plan(records: Records) -> Job:
    job = handed_in(records)
    recorded(records, rows.marked(job))
    with records.write() as session:
        return plans.order(session, job.subject_id, "Letter", again=False)


def test_a_plan_is_kept_on_the_paper_asked_for(either: Records) -> None:
    job = with_plan(either)
    assert recorded(either, rows.planned(job)) == []
    assert recorded(either, rows.planned(job, b"%PDF-1.7 late")) is None
    with either.read() as session:
        kept = session.get_one(Plan, job.subject_id)
        assert (kept.paper, kept.pdf) == ("Letter", b"%PDF-1.7 a plan")


def test_a_sheet_cannot_answer_for_a_plan_nor_a_plan_for_a_sheet(either: Records) -> None:
    job = handed_in(either)
    (sheet,) = recorded(either, rows.marked(job)) or []
    assert recorded(either, rows.planned(sheet)) is None
    with either.write() as session:
        plan = plans.order(session, job.subject_id, "A4", again=False)
    assert recorded(either, rows.printed(plan)) is None


def test_a_truss_marked_again_has_its_plan_drawn_anew(either: Records) -> None:
    plan = with_plan(either)
    recorded(either, rows.planned(plan))
    with either.write() as session:
        again = open_job(session, MARK, plan.subject_id)
    opened = recorded(either, rows.marked(again)) or []
    assert [job.kind for job in opened] == [PRINT, PLAN]
    with either.read() as session:
        assert session.get_one(Plan, plan.subject_id).pdf is None


def test_a_truss_that_no_longer_stands_loses_its_plan(either: Records) -> None:
    plan = with_plan(either)
    recorded(either, rows.planned(plan))
    with either.write() as session:
        again = open_job(session, MARK, plan.subject_id)
    moves = rows.marked(again)
    moves["analysis"]["state"] = "mechanism"
    assert [job.kind for job in recorded(either, moves) or []] == [PRINT]
    with either.read() as session:
        assert session.get(Plan, plan.subject_id) is None


def test_a_drawing_of_a_brief_is_kept_with_the_assignment(either: Records) -> None:
    with either.write() as session:
        given = rows.assignment(session)
        job = open_job(session, DRAW, given.id)
    drawn = Drawn(job=job.id, attempt=job.attempt, drawing=Figure(svg=rows.SVG, alternative="the envelope"))
    assert recorded(either, drawn.model_dump(mode="json")) == []
    with either.read() as session:
        drawing = session.get_one(Assignment, given.id).newest.drawing
    assert drawing == {"svg": rows.SVG, "alternative": "the envelope"}


def test_an_answer_about_a_submission_that_was_deleted_is_harmless(either: Records) -> None:
    job = handed_in(either)
    with either.write() as session:
        session.delete(session.get_one(Submission, job.subject_id))
    assert recorded(either, rows.marked(job)) == []


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"kind": "poem"}, "wrong shape"),
        ({"surplus": 1}, "wrong shape"),
        ({"job": "one"}, "wrong shape"),
        ({"measures": {"efficiency": float("nan")}}, "no plain JSON"),
        ({"title": "a\ud800"}, "wrong shape"),
        ({"title": "x" * 9_100_000}, "too large"),
        ({"drawing": {"svg": "<svg onload='x()'/>", "alternative": ""}}, "drawing is refused"),
        ({"drawing": {"svg": "<svg", "alternative": ""}}, "not well-formed"),
    ],
)
def test_an_outcome_that_no_worker_of_ours_would_send_is_refused(change: dict[str, Any], why: str) -> None:
    job = Job(id=1, attempt="a")
    with pytest.raises(OutcomeRefused, match=why):
        read_outcome(rows.marked(job, **change))


@pytest.mark.parametrize("sheet", ["<html>", "JVBERi0", "====", "JVBERi0x\u00e9"])
def test_a_sheet_that_is_no_pdf_is_refused(sheet: str) -> None:
    message = {"kind": "printed", "job": 1, "attempt": "a", "pdf_base64": sheet}
    with pytest.raises(OutcomeRefused, match="its sheet is no"):
        read_outcome(message)


@pytest.mark.parametrize("message", [None, 3, [], "marked", {"kind": "marked"}, {"kind": {}}])
def test_something_else_altogether_is_refused(message: Any) -> None:
    with pytest.raises(OutcomeRefused):
        read_outcome(message)
