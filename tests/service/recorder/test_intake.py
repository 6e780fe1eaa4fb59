"""The recorder takes in what workers send, whatever state the database is in."""

from __future__ import annotations

import logging
import threading
import time
from typing import Any

import pytest
from sqlalchemy import event, text

from service.recorder.intake import started, take_in
from service.records.engine import Records, open_records
from service.records.models import MARKED, Job, Submission
from tests.service import rows


class Sent:
    def __init__(self) -> None:
        self.jobs: list[Job] = []

    def send(self, job: Job) -> bool:
        self.jobs.append(job)
        return True


@pytest.fixture
def job(records: Records) -> Job:
    with records.write() as session:
        return rows.handed_in(session)


def state(records: Records, job: Job) -> str:
    with records.read() as session:
        return session.get_one(Submission, job.subject_id).state


def test_an_outcome_is_written_and_the_sheet_is_ordered_after_the_commit(records: Records, job: Job) -> None:
    sent = Sent()
    take_in(records, sent, rows.marked(job))
    assert state(records, job) == MARKED
    assert [(each.kind, each.subject_id) for each in sent.jobs] == [("worker.print", job.subject_id)]


def test_an_outcome_that_comes_twice_orders_one_sheet(records: Records, job: Job) -> None:
    sent = Sent()
    for _ in range(2):
        take_in(records, sent, rows.marked(job))
    assert len(sent.jobs) == 1


def test_a_refused_outcome_is_logged_by_ids_alone(records: Records, job: Job, caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.INFO):
        take_in(records, Sent(), rows.marked(job, title="<secret>", surplus=1))
    (line,) = [record for record in caplog.records if record.name == "service.recorder.intake"]
    assert (line.msg, line.job) == ("an outcome was refused", job.id)
    assert "secret" not in str(vars(line))
    assert state(records, job) == "received"


@pytest.mark.parametrize("values", [("1", "a"), (True, "a"), (0, "a"), (2**40, "a"), (1, None), (None, None)])
def test_a_start_that_is_none_is_left_out(records: Records, values: tuple[Any, Any]) -> None:
    started(records, *values)


def test_a_start_is_counted(records: Records, job: Job) -> None:
    started(records, job.id, job.attempt)
    with records.read() as session:
        assert session.get_one(Job, job.id).started == 1


def test_an_outcome_waits_for_a_locked_database(records: Records, job: Job) -> None:
    impatient = open_records(str(records.engine.url))
    event.listen(impatient.engine, "connect", lambda connection, _: connection.execute("PRAGMA busy_timeout=50"))
    lock = records.engine.connect()
    lock.execute(text("SELECT 1"))  # BEGIN IMMEDIATE
    taking = threading.Thread(target=take_in, args=(impatient, Sent(), rows.marked(job)))
    taking.start()
    time.sleep(0.5)
    assert taking.is_alive()
    lock.close()
    taking.join(10)
    assert state(records, job) == MARKED


def test_an_outcome_waits_for_room_on_the_disk(records: Records, job: Job) -> None:
    room = {"pages": 1}
    event.listen(
        records.engine,
        "begin",
        lambda connection: connection.exec_driver_sql(f"PRAGMA max_page_count={room['pages']}"),
    )
    message = rows.marked(job, steps=[{"title": "More", "text": "x" * 100_000}])
    taking = threading.Thread(target=take_in, args=(records, Sent(), message))
    taking.start()
    time.sleep(0.5)
    assert taking.is_alive()
    room["pages"] = 100_000
    taking.join(10)
    assert state(records, job) == MARKED
