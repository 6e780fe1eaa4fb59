"""The sweep: it sends again what is gone, leaves alone what still queues, gives up what never comes back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.messages.names import MARK, PLAN, PRINT
from service.classes import plans
from service.jobs import STARTS_ALLOWED, record_started
from service.outcomes import read_outcome, record
from service.records.engine import Records
from service.records.models import (
    FAILED,
    MARKED,
    NOT_MARKED,
    RECEIVED,
    WAITING,
    Job,
    Notice,
    Submission,
    now,
)
from service.saying import notice_said
from service.sweep import BATCH, PROBES, Queue, due, sweep_once
from tests.service import rows

NOON = datetime(2027, 3, 1, 12)


def at(seconds: float) -> datetime:
    return NOON + timedelta(seconds=seconds)


def row(sent: float, next_send: float, started: int = 0, kind: str = MARK) -> Job:
    return Job(kind=kind, state=WAITING, sent=1, started=started, sent_at=at(sent), next_send_at=at(next_send))


def queue(back: float, back_sent: float, last_sent: float = -100) -> dict[str, Queue]:
    return {MARK: Queue(at(back), at(back_sent), at(last_sent))}


def test_a_row_is_left_alone_while_its_queue_moves() -> None:
    rows_waiting = [row(sent=-60, next_send=-30)]
    assert due(rows_waiting, queue(back=-1, back_sent=-61), NOON).send == []


def test_a_row_that_was_overtaken_is_sent_again() -> None:
    overtaken, behind = row(sent=-60, next_send=-30), row(sent=-50, next_send=-30)
    assert due([overtaken, behind], queue(back=-1, back_sent=-55), NOON).send == [overtaken]


def test_a_row_is_not_sent_before_its_pause_is_over() -> None:
    assert due([row(sent=-60, next_send=1)], queue(back=-1, back_sent=-55), NOON).send == []


def test_a_silent_queue_is_probed_with_a_few_of_the_oldest() -> None:
    waiting = [row(sent=n - 60, next_send=-1) for n in range(40)]
    assert due(waiting, queue(back=-6, back_sent=-61, last_sent=-20), NOON).send == waiting[:PROBES]


def test_a_queue_whose_worker_is_slow_is_not_probed_until_its_time_is_over() -> None:
    silent = queue(back=-30, back_sent=-61, last_sent=-30)[MARK]
    assert due([row(-60, -1)], {MARK: replace(silent, busy_until=at(2))}, NOON).send == []
    assert len(due([row(-60, -1)], {MARK: replace(silent, busy_until=at(-2))}, NOON).send) == 1


def test_a_queue_into_which_something_was_just_sent_is_not_probed() -> None:
    assert due([row(-60, -1)], queue(back=-6, back_sent=-61, last_sent=-2), NOON).send == []


def test_probes_grow_seldom_while_nobody_works() -> None:
    hours_of_silence = queue(back=-7200, back_sent=-7300, last_sent=-14)
    assert due([row(-7000, -1)], hours_of_silence, NOON).send == []


def test_one_pass_sends_a_bounded_batch() -> None:
    waiting = [row(sent=-60, next_send=-1) for _ in range(300)]
    assert len(due(waiting, queue(back=-1, back_sent=-5), NOON).send) == BATCH


def test_a_slow_printer_does_not_make_marking_look_silent() -> None:
    queues = queue(back=-1, back_sent=-61) | {PRINT: Queue(at(-60), at(-61), at(-60))}
    marking, printing = row(-60, -1), row(-60, -1, kind=PRINT)
    assert due([marking, printing], queues, NOON).send == [printing]


def test_a_row_begun_three_times_is_given_up_once_its_time_is_over() -> None:
    worn, still_at_it = row(-90, -1, started=3), row(-90, 5, started=3)
    verdict = due([worn, still_at_it], queue(back=-1, back_sent=-61), NOON)
    assert (verdict.give_up, verdict.send) == ([worn], [])


@given(st.lists(st.tuples(st.integers(0, 500), st.integers(-500, 500))), st.integers(-500, 0), st.integers(-500, 0))
def test_a_row_that_was_never_begun_is_never_given_up(waiting: Any, back: int, back_sent: int) -> None:
    jobs = [row(-sent, next_send) for sent, next_send in waiting]
    assert due(jobs, queue(back, back_sent), NOON).give_up == []


class Publisher:
    """Keeps what was published, or fails as a broker does that is down."""

    def __init__(self, works: bool = True) -> None:
        self.works, self.orders = works, []
        self.sendings: list[int] = []

    def publish(self, task: str, order: dict[str, Any]) -> bool:
        self.sendings.append(order["sending"])
        self.orders.append((task, order["job"]))
        return self.works


@pytest.fixture
def lost(either: Records) -> Callable[..., Job]:
    """Makes a job whose message is gone and whose pause is over."""

    def make(starts: int = 0, kind: str = MARK) -> Job:
        with either.write() as session:
            job = rows.handed_in(session)
            if kind == PRINT:
                (job,) = record(session, read_outcome(rows.marked(job))) or []
            if kind == PLAN:
                record(session, read_outcome(rows.marked(job)))
                job = plans.order(session, job.subject_id, "A4", again=False)
            for _ in range(starts):
                record_started(session, job.id, job.attempt)
            job = session.get_one(Job, job.id)
            job.sent_at = job.next_send_at = now() - timedelta(minutes=2)
            return job

    return make


@pytest.mark.parametrize(("starts", "sent"), [(0, 1), (1, 0), (2, 0), (3, 1)])
def test_nothing_is_published_beside_an_order_that_a_worker_has_just_begun(
    either: Records, lost: Callable[..., Job], starts: int, sent: int
) -> None:
    begun, publisher = lost(), Publisher()
    lost()
    with either.write() as session:
        for _ in range(starts):
            record_started(session, begun.id, begun.attempt)
    sweep_once(either, publisher)
    assert len([job for _, job in publisher.orders if job != begun.id]) == sent


def test_a_lost_order_is_published_again_and_counted(either: Records, lost: Callable[..., Job]) -> None:
    job, publisher = lost(), Publisher()
    sweep_once(either, publisher)
    assert publisher.orders == [(MARK, job.id)]
    with either.read() as session:
        found = session.get_one(Job, job.id)
        assert (found.sent, found.attempt) == (2, job.attempt)
        assert found.next_send_at > now()
    assert sweep_once(either, publisher).send == []


def test_an_order_says_which_sending_of_it_comes_through(either: Records, lost: Callable[..., Job]) -> None:
    job, publisher = lost(), Publisher()
    sweep_once(either, publisher)
    assert publisher.sendings == [2]
    with either.write() as session:
        record_started(session, job.id, job.attempt, sending=2)
        found = session.get_one(Job, job.id)
        assert found.came_sent_at == found.sent_at


@pytest.mark.parametrize(("sending", "overtaken"), [(1, 0), (2, 1)])
def test_a_probe_counts_for_its_queue_only_when_it_comes_through_itself(
    either: Records, lost: Callable[..., Job], sending: int, overtaken: int
) -> None:
    probe = lost()
    sweep_once(either, Publisher())
    waits = lost()
    with either.write() as session:
        session.get_one(Job, waits.id).sent_at = now() - timedelta(seconds=90)
        session.get_one(Job, probe.id).created_at = now() - timedelta(minutes=3)
        record_started(session, probe.id, probe.attempt, sending)
        record(session, read_outcome(rows.marked(probe)))
    assert len(sweep_once(either, Publisher()).send) == overtaken


def test_a_broker_that_is_down_ends_the_pass(either: Records, lost: Callable[..., Job]) -> None:
    for _ in range(3):
        lost()
    publisher = Publisher(works=False)
    sweep_once(either, publisher)
    assert len(publisher.orders) == 1


def test_work_begun_three_times_fails_with_a_notice_for_the_teacher(either: Records, lost: Callable[..., Job]) -> None:
    job, innocent = lost(starts=STARTS_ALLOWED), lost(starts=STARTS_ALLOWED - 1)
    sweep_once(either, Publisher())
    with either.read() as session:
        assert session.get_one(Job, job.id).state == FAILED
        assert session.get_one(Submission, job.subject_id).state == NOT_MARKED
        notice = session.query(Notice).one()
        assert (notice.submission_id, notice.settled) == (job.subject_id, False)
        assert notice_said(notice.text, notice.values).startswith("Attempt 1 could not be marked")
        assert session.get_one(Submission, innocent.subject_id).state == RECEIVED


def test_a_sheet_that_cannot_be_set_leaves_the_marks_alone(either: Records, lost: Callable[..., Job]) -> None:
    job = lost(starts=STARTS_ALLOWED, kind=PRINT)
    sweep_once(either, Publisher())
    with either.read() as session:
        submission = session.get_one(Submission, job.subject_id)
        assert (submission.state, submission.total) == (MARKED, 75.0)
        notice = session.query(Notice).one()
        assert notice_said(notice.text, notice.values).startswith("The sheet of attempt 1 could not be printed")


def test_a_plan_that_cannot_be_drawn_leaves_marks_and_sheet_alone(either: Records, lost: Callable[..., Job]) -> None:
    job = lost(starts=STARTS_ALLOWED, kind=PLAN)
    sweep_once(either, Publisher())
    with either.read() as session:
        assert session.get_one(Job, job.id).state == FAILED
        assert session.get_one(Submission, job.subject_id).state == MARKED
        notice = session.query(Notice).one()
        assert notice_said(notice.text, notice.values).startswith("The building plan of attempt 1 could not be drawn")


def test_an_answer_after_giving_up_no_longer_counts(either: Records, lost: Callable[..., Job]) -> None:
    job = lost(starts=STARTS_ALLOWED)
    sweep_once(either, Publisher())
    with either.write() as session:
        assert record(session, read_outcome(rows.marked(job))) is None


def test_a_job_about_something_that_is_gone_ends_in_silence(either: Records, lost: Callable[..., Job]) -> None:
    job, publisher = lost(), Publisher()
    with either.write() as session:
        session.delete(session.get_one(Submission, job.subject_id))
    sweep_once(either, publisher)
    with either.read() as session:
        assert session.get_one(Job, job.id).state == FAILED
        assert (publisher.orders, session.query(Notice).count()) == ([], 0)
