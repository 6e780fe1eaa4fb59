"""Sending: after the commit, by name, and never in the way of a web request."""

from __future__ import annotations

import json
import logging
import os
import signal
import time
from pathlib import Path

import pytest

from rubric.messages.names import MARKING
from service.records.engine import Records
from service.records.models import Job
from service.sending import Sending
from tests.servers import free_port, redis_server
from tests.service import rows


@pytest.fixture
def job(records: Records) -> Job:
    with records.write() as session:
        return rows.handed_in(session)


def test_an_order_lies_in_its_queue_once_it_is_sent(records: Records, job: Job, tmp_path: Path) -> None:
    assert Sending(records, str(tmp_path / "broker")).send(job)
    (file,) = (tmp_path / "broker" / MARKING).iterdir()
    message = json.loads(file.read_bytes())
    assert message["headers"]["task"] == "worker.mark"
    assert message["headers"]["expires"] is not None
    assert message["headers"]["argsrepr"] == "(order)"


def test_a_broker_that_nobody_runs_costs_a_log_line_and_no_exception(
    records: Records, job: Job, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.WARNING, "service.sending"):
        assert not Sending(records, f"redis://127.0.0.1:{free_port()}/0").send(job)
    (record,) = caplog.records
    assert record.msg == "an order could not be published and waits for the sweep"
    assert record.job == job.id


def test_a_folder_that_cannot_be_written_costs_no_exception(records: Records, job: Job, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    assert not Sending(records, str(tmp_path / "file" / "broker")).send(job)


def test_a_frozen_redis_holds_a_sender_for_three_seconds_at_most(records: Records, job: Job, tmp_path: Path) -> None:
    with redis_server(tmp_path) as (address, process):
        sending = Sending(records, address)
        assert sending.send(job)
        os.kill(process.pid, signal.SIGSTOP)
        begun = time.monotonic()
        assert not sending.send(job)
        assert time.monotonic() - begun < 3
        os.kill(process.pid, signal.SIGCONT)
        assert sending.send(job)


def open_files() -> int:
    return len(list(Path("/proc/self/fd").iterdir()))


def test_sending_leaves_no_connection_open(records: Records, job: Job, tmp_path: Path) -> None:
    with redis_server(tmp_path) as (address, _):
        sending = Sending(records, address)
        sending.send(job)
        before = open_files()
        assert all(sending.send(job) for _ in range(20))
        assert open_files() <= before + 1


def test_what_a_job_is_about_may_be_gone(records: Records, tmp_path: Path) -> None:
    gone = Job(id=1, kind="worker.mark", subject_id=4711, attempt="a")
    assert not Sending(records, str(tmp_path / "broker")).send(gone)
    assert not (tmp_path / "broker").exists()
