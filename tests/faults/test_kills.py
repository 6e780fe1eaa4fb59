"""Whatever is killed, and whenever: nothing is lost and nothing is marked twice."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from rubric.messages.names import PRINT
from tests.faults.rig import running, wait_until
from tests.servers import redis_server

pytestmark = pytest.mark.faults

HAND_INS = 200

KILLED_AT = {25: "recorder", 60: "web", 130: "sweep"}
"""What is killed beside the marking workers, by the number of the hand-in."""


def test_two_hundred_hand_ins_survive_every_kill(broker: str, tmp_path: Path) -> None:
    with running(tmp_path / "data", broker, parts="web,recorder,sweep,marking") as rig:
        wait_until(rig.healthy, 30, rig.log)
        begun = time.monotonic()
        for number in range(HAND_INS):
            rig.hand_in(number)
            if number % 40 == 20:
                rig.kill("marking")
            if number in KILLED_AT:
                rig.kill(KILLED_AT[number])
            if number == 110:
                rig.empty_broker()
            time.sleep(max(begun + number * 0.06 - time.monotonic(), 0))
        took = wait_until(lambda: rig.count() == HAND_INS, 120, rig.waiting)
        wait_until(rig.healthy, 10)
        assert rig.times_marked() == [1] * HAND_INS
        assert {kind for kind, _, _ in rig.waiting()} == {PRINT}
        print(f"all marked {took:.1f} s after the last hand-in")


def test_the_same_code_runs_on_postgresql_and_redis(tmp_path: Path, postgresql_address: str) -> None:
    with (
        redis_server(tmp_path) as (address, _),
        running(tmp_path / "data", address, database=postgresql_address) as rig,
    ):
        wait_until(rig.healthy, 30, rig.log)
        for number in range(20):
            rig.hand_in(number)
            if number == 10:
                rig.kill("recorder")
        wait_until(lambda: rig.sheets() == 20, 60, rig.waiting)
        assert rig.waiting() == []


def test_no_process_outlives_a_supervisor_that_was_killed(tmp_path: Path) -> None:
    with running(tmp_path / "data") as rig:
        wait_until(rig.healthy, 30, rig.log)
        parts = [rig.pid_of(part) for part in ("web", "recorder", "sweep", "marking", "printing")]
        wait_until(lambda: len(members(rig.pid_of("marking"))) == 3, 30, rig.log)  # pages are there before workers
        groups = {pid: members(pid) for pid in parts}
        rig.process.kill()
        wait_until(lambda: not any(members(pid) for pid in parts), 15, lambda: groups)


def members(group: int) -> list[int]:
    """The living processes of a process group."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rpartition(")")[2].split()
        except (FileNotFoundError, ProcessLookupError):
            continue
        if fields[0] != "Z" and int(fields[2]) == group:
            found.append(int(stat.parent.name))
    return found
