"""Rounds of work: opened, begun, ended once."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.messages.names import MARK, PRINT
from rubric.messages.settings import HARD_LIMIT_S
from service.jobs import STARTS_ALLOWED, finish, oldest_waiting, open_job, pause, record_started, waiting_job
from service.records.engine import Records
from service.records.models import DONE, FAILED, WAITING, Job, now


def opened(records: Records, kind: str = MARK) -> Job:
    with records.write() as session:
        return open_job(session, kind, 7)


def test_a_round_begins_waiting_with_its_first_sending_counted(either: Records) -> None:
    job = opened(either)
    assert (job.state, job.sent, job.started) == (WAITING, 1, 0)
    assert job.next_send_at - job.sent_at == pause(1) == timedelta(seconds=5)


def test_a_second_round_takes_the_same_row_and_a_new_token(either: Records) -> None:
    first = opened(either)
    with either.write() as session:
        assert finish(session, first)
    second = opened(either)
    assert second.id == first.id
    assert second.attempt != first.attempt
    assert (second.state, second.finished_at) == (WAITING, None)


def test_an_answer_to_an_older_round_no_longer_counts(either: Records) -> None:
    first = opened(either)
    opened(either)
    with either.write() as session:
        assert waiting_job(session, first.id, first.attempt, (MARK,)) is None
        assert not finish(session, first)
        assert not record_started(session, first.id, first.attempt)


def test_a_round_ends_once(either: Records) -> None:
    job = opened(either)
    for expected in (True, False, False):
        with either.write() as session:
            assert finish(session, job) is expected
    with either.write() as session:
        assert not finish(session, job, FAILED)
        assert session.get_one(Job, job.id).state == DONE


def test_an_answer_of_another_kind_is_not_what_the_row_waits_for(either: Records) -> None:
    job = opened(either)
    with either.read() as session:
        assert waiting_job(session, job.id, job.attempt, (PRINT,)) is None
        assert waiting_job(session, job.id, job.attempt, (MARK,)) is not None


def test_starts_are_counted_and_give_the_worker_time(either: Records) -> None:
    job = opened(either)
    for count in range(1, STARTS_ALLOWED + 1):
        with either.write() as session:
            assert record_started(session, job.id, job.attempt)
            assert session.get_one(Job, job.id).started == count
    with either.read() as session:
        left = session.get_one(Job, job.id).next_send_at - now()
    assert left > timedelta(seconds=HARD_LIMIT_S[MARK] - 2)


def test_the_oldest_waiting_row_tells_how_long_work_has_waited(either: Records) -> None:
    with either.read() as session:
        assert oldest_waiting(session) is None
    job = opened(either)
    with either.write() as session:
        assert oldest_waiting(session) == job.created_at
        finish(session, job)
        assert oldest_waiting(session) is None


@given(st.integers(1, 10_000))
def test_pauses_grow_and_are_bounded(sent: int) -> None:
    assert timedelta(seconds=5) <= pause(sent) <= pause(sent + 1) <= timedelta(seconds=30)


@pytest.mark.parametrize(("sent", "seconds"), [(1, 5), (2, 10), (3, 20), (4, 30), (5, 30)])
def test_a_pause_doubles_until_thirty_seconds(sent: int, seconds: int) -> None:
    assert pause(sent) == timedelta(seconds=seconds)
