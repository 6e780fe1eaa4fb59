"""Whatever is killed, and whenever: nothing is lost and nothing is marked twice."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from tests.faults.rig import running, wait_until

pytestmark = pytest.mark.faults

HAND_INS = 200


def test_two_hundred_hand_ins_survive_every_kill(broker: str, tmp_path: Path) -> None:
    with running(tmp_path / "data", broker) as rig:
        wait_until(rig.healthy, 30, rig.log)
        begun = time.monotonic()
        faults = {25: "recorder", 60: "web", 95: "printing", 130: "sweep"}
        for number in range(HAND_INS):
            rig.hand_in(number)
            if number % 40 == 20:
                rig.kill("marking")
            if number in faults:
                rig.kill(faults[number])
            if number == 110:
                rig.empty_broker()
            time.sleep(max(begun + number * 0.09 - time.monotonic(), 0))
        took = wait_until(lambda: rig.count() == HAND_INS, 120, rig.waiting)
        took += wait_until(lambda: rig.sheets() == HAND_INS, 120 - took, rig.waiting)
        wait_until(rig.healthy, 10)
        assert rig.times_marked() == [1] * HAND_INS
        assert rig.waiting() == []
        print(f"all marked and printed {took:.1f} s after the last fault")


def test_no_process_outlives_a_supervisor_that_was_killed(tmp_path: Path) -> None:
    with running(tmp_path / "data") as rig:
        wait_until(rig.healthy, 30, rig.log)
        parts = [rig.pid_of(part) for part in ("web", "recorder", "sweep", "marking", "printing")]
        groups = {pid: members(pid) for pid in parts}
        assert len(groups[rig.pid_of("marking")]) == 3
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
