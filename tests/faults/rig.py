"""A whole Kingpost in a temporary folder, and the ways to break it."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import func, select, text

from service.records.engine import Records, open_records
from service.records.migrations import upgrade
from service.records.models import MARKED, Assignment, Job, Person, Sheet, Submission
from service.sending import Sending
from tests.servers import free_port
from tests.service import rows


@dataclass
class Rig:
    """``kingpost serve`` on a data folder, seen from outside."""

    data: Path
    broker: str
    port: int
    process: subprocess.Popen[bytes]
    records: Records
    sending: Sending
    given: Assignment
    students: list[Person]

    def hand_in(self, number: int, file: bytes = rows.TRUSS) -> int:
        """One more attempt, committed and then sent, as a page does it; returns the submission."""
        with self.records.write() as session:
            job = rows.hand_in(session, self.given, self.students[number % len(self.students)], number, file)
        self.sending.send(job)
        return job.subject_id

    def pid_of(self, part: str) -> int:
        """The process that runs a part now."""
        started = re.findall(rf"a part was started \(part={part} pid=([0-9]+)\)", self.log())
        return int(started[-1])

    def kill(self, part: str) -> None:
        """SIGKILL to a part and all it forked."""
        with suppress(ProcessLookupError):
            os.killpg(self.pid_of(part), signal.SIGKILL)

    def empty_broker(self) -> None:
        """Everything that is under way is lost."""
        if "://" not in self.broker:
            shutil.rmtree(self.broker)
            return
        import redis

        with redis.Redis.from_url(self.broker) as client:
            client.flushall()

    def log(self) -> str:
        return (self.data / "serve.log").read_text()

    def healthy(self) -> bool:
        """Whether the web part answers."""
        with suppress(OSError), urllib.request.urlopen(f"http://127.0.0.1:{self.port}/health", timeout=2) as answer:
            return answer.status == 200
        return False

    def count(self, state: str = MARKED) -> int:
        with self.records.read() as session:
            return session.scalar(select(func.count()).select_from(Submission).where(Submission.state == state)) or 0

    def sheets(self) -> int:
        with self.records.read() as session:
            return session.scalar(select(func.count()).select_from(Sheet)) or 0

    def times_marked(self) -> list[int]:
        """How often each submission that was marked at all was written as marked."""
        with self.records.read() as session:
            return list(session.scalars(text("SELECT count(*) FROM marked_log GROUP BY submission")))

    def waiting(self) -> list[tuple[str, int, int]]:
        with self.records.read() as session:
            jobs = session.scalars(select(Job).where(Job.state == "waiting"))
            return [(job.kind, job.sent, job.started) for job in jobs]


@contextmanager
def running(
    data: Path, broker: str = "", parts: str = "web,recorder,sweep,marking,printing", database: str = ""
) -> Iterator[Rig]:
    """Start ``kingpost serve`` and stop it in the end; by default with everything in the data folder."""
    data.mkdir(parents=True)
    port = free_port()
    settings = {
        "KINGPOST_DATA": str(data),
        "KINGPOST_PORT": str(port),
        "KINGPOST_BROKER": broker or str(data / "broker"),
    }
    settings["KINGPOST_DATABASE"] = database or f"sqlite:///{data}/kingpost.sqlite"
    records = open_records(settings["KINGPOST_DATABASE"])
    upgrade(records.engine)
    if not database:
        _log_what_is_marked(records)
    given, students = _school(records)
    with (data / "serve.log").open("wb") as log:
        process = subprocess.Popen(
            [sys.executable, "-m", "rubric.commandline", "serve", "--parts", parts],
            env={name: value for name, value in os.environ.items() if not name.startswith("KINGPOST_")} | settings,
            stderr=log,
            stdout=log,
        )
    broker = settings["KINGPOST_BROKER"]
    try:
        yield Rig(data, broker, port, process, records, Sending(records, broker), given, students)
    finally:
        process.terminate()
        process.wait(30)
        records.engine.dispose()


def wait_until(true: Callable[[], bool], seconds: float, what: Callable[[], object] = str) -> float:
    """Wait until something is true; returns how long that took."""
    begun = time.monotonic()
    while not true():
        assert time.monotonic() - begun < seconds, f"not within {seconds} s: {what()}"
        time.sleep(0.1)
    return time.monotonic() - begun


def _school(records: Records) -> tuple[Assignment, list[Person]]:
    with records.write() as session:
        given = rows.assignment(session)
        students = [rows.student(session, given, f"Student {n}") for n in range(30)]
    return given, students


def _log_what_is_marked(records: Records) -> None:
    """Have SQLite itself note each time that an outcome is written."""
    with records.write() as session:
        session.execute(text("CREATE TABLE marked_log (submission INTEGER)"))
        session.execute(
            text(
                "CREATE TRIGGER on_marked AFTER UPDATE OF outcome ON submissions WHEN NEW.state = 'marked' "
                "BEGIN INSERT INTO marked_log VALUES (NEW.id); END"
            )
        )
