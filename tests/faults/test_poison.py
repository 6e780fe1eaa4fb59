"""A file that kills or holds the process that reads it fails alone, and a teacher gets to know."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

import pytest

from rubric.messages.names import MARK, PRINT
from service.jobs import STARTS_ALLOWED
from service.records.models import MARKED, NOT_MARKED, Job, Notice, Submission
from tests.faults.poisoned import ENDLESS, POISON
from tests.faults.rig import Rig, running, wait_until
from tests.servers import redis_server
from tests.service import rows

pytestmark = pytest.mark.faults


@contextmanager
def poisoned(data: Path, address: str = "") -> Iterator[tuple[Rig, set[int]]]:
    """A rig whose marking worker dies of poison, with innocent files on both sides of what is deadly."""
    with running(data, address, parts="recorder,sweep,printing") as rig:
        environment = {**os.environ, "KINGPOST_BROKER": rig.broker}
        with (data / "worker.log").open("wb") as log:
            worker = subprocess.Popen(
                [sys.executable, "-m", "tests.faults.poisoned"], env=environment, stdout=log, stderr=log
            )
        try:
            for number in range(10):
                rig.hand_in(number)
            deadly = {rig.hand_in(10, POISON + rows.TRUSS), rig.hand_in(11, ENDLESS + rows.TRUSS)}
            for number in range(12, 22):
                rig.hand_in(number)
            yield rig, deadly
        finally:
            worker.kill()
            worker.wait()


@pytest.fixture(scope="module")
def rigs(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, tuple[Rig, set[int]]]]:
    """Both brokers at once: giving up takes its time, and the same time."""
    with ExitStack() as stack:
        folder = tmp_path_factory.mktemp("poison")
        address, _ = stack.enter_context(redis_server(folder))
        yield {
            "folder": stack.enter_context(poisoned(folder / "a")),
            "redis": stack.enter_context(poisoned(folder / "b", address)),
        }


@pytest.mark.parametrize("name", ["folder", "redis"])
def test_each_sheet_comes_in_the_end_though_the_printer_is_killed(
    rigs: dict[str, tuple[Rig, set[int]]], name: str
) -> None:
    rig, _ = rigs[name]
    wait_until(lambda: rig.sheets() == 20, 120, rig.waiting)
    for more in range(2):
        for number in range(10):
            rig.hand_in(100 * (more + 1) + number)
        wait_until(lambda: rig.sheets() > 20, 120, rig.waiting)
        rig.kill("printing")
    wait_until(lambda: rig.sheets() == 40, 180, rig.waiting)
    assert not [kind for kind, _, _ in rig.waiting() if kind == PRINT]


@pytest.mark.parametrize("name", ["folder", "redis"])
def test_poison_fails_after_three_starts_while_the_others_are_marked(
    rigs: dict[str, tuple[Rig, set[int]]], name: str
) -> None:
    rig, deadly = rigs[name]
    wait_until(lambda: rig.count(MARKED) == 40, 60, rig.waiting)
    wait_until(lambda: rig.count(NOT_MARKED) == 2, 180, rig.waiting)
    with rig.records.read() as session:
        failed = session.query(Submission).filter_by(state=NOT_MARKED)
        assert {submission.id for submission in failed} == deadly
        jobs = session.query(Job).filter(Job.kind == MARK, Job.subject_id.in_(deadly))
        assert [job.started for job in jobs] == [STARTS_ALLOWED] * 2
        assert {notice.submission_id for notice in session.query(Notice)} == deadly
    assert rig.times_marked() == [1] * 40
