"""A file that kills the process that reads it fails alone, and a teacher gets to know."""

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
from tests.faults.poisoned import POISON
from tests.faults.rig import Rig, running, wait_until
from tests.servers import redis_server
from tests.service import rows

pytestmark = pytest.mark.faults


@contextmanager
def poisoned(data: Path, address: str = "") -> Iterator[tuple[Rig, int]]:
    """A rig whose marking worker dies of poison, with innocent files on both sides of one that is."""
    with running(data, address, parts="recorder,sweep,printing") as rig:
        environment = {**os.environ, "KINGPOST_BROKER": rig.broker}
        with (data / "worker.log").open("wb") as log:
            worker = subprocess.Popen(
                [sys.executable, "-m", "tests.faults.poisoned"], env=environment, stdout=log, stderr=log
            )
        try:
            for number in range(10):
                rig.hand_in(number)
            poison = rig.hand_in(10, POISON + rows.TRUSS)
            for number in range(11, 21):
                rig.hand_in(number)
            yield rig, poison
        finally:
            worker.kill()
            worker.wait()


@pytest.fixture(scope="module")
def rigs(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, tuple[Rig, int]]]:
    """Both brokers at once: giving up takes its time, and the same time."""
    with ExitStack() as stack:
        folder = tmp_path_factory.mktemp("poison")
        address, _ = stack.enter_context(redis_server(folder))
        yield {
            "folder": stack.enter_context(poisoned(folder / "a")),
            "redis": stack.enter_context(poisoned(folder / "b", address)),
        }


@pytest.mark.parametrize("name", ["folder", "redis"])
def test_each_sheet_comes_in_the_end_though_the_printer_is_killed(rigs: dict[str, tuple[Rig, int]], name: str) -> None:
    rig, _ = rigs[name]
    wait_until(lambda: rig.sheets() == 20, 60, rig.waiting)
    for more in range(2):
        for number in range(10):
            rig.hand_in(100 * (more + 1) + number)
        wait_until(lambda: rig.sheets() > 20, 60, rig.waiting)
        rig.kill("printing")
    wait_until(lambda: rig.sheets() == 40, 90, rig.waiting)
    assert not [kind for kind, _, _ in rig.waiting() if kind == PRINT]


@pytest.mark.parametrize("name", ["folder", "redis"])
def test_poison_fails_after_three_starts_while_the_others_are_marked(
    rigs: dict[str, tuple[Rig, int]], name: str
) -> None:
    rig, poison = rigs[name]
    wait_until(lambda: rig.count(MARKED) == 40, 30, rig.waiting)
    wait_until(lambda: rig.count(NOT_MARKED) == 1, 90, rig.waiting)
    with rig.records.read() as session:
        assert session.get_one(Submission, poison).state == NOT_MARKED
        assert session.query(Job).filter_by(kind=MARK, subject_id=poison).one().started == STARTS_ALLOWED
        assert [notice.submission_id for notice in session.query(Notice)] == [poison]
    assert rig.times_marked() == [1] * 40
