"""The supervisor starts parts, starts again what dies, stops all, and keeps secrets from workers."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from service.supervisor import worker_environment

PROGRAM = """
import sys, logging
from service import supervisor
from rubric.logs import set_up_logging
set_up_logging("serve")
supervisor.sys.executable = sys.argv[1]
parts = [supervisor.Part(name, (name,), dict({environment}), {niceness}) for name in sys.argv[2:]]
supervisor.Supervisor(parts, grace_s=1).run()
"""

PART = """#!{python}
import os, signal, sys, time
name = sys.argv[-1]
open(os.environ["OUT"], "a").write(f"{{name}} {{os.getpid()}} {{os.nice(0)}}\\n")
if name == "stubborn":
    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    if os.fork() == 0:
        open(os.environ["OUT"], "a").write(f"child {{os.getpid()}} 0\\n")
if name == "brief":
    sys.exit(3)
time.sleep(60)
"""


class Supervised:
    """A supervisor in a process of its own, over parts that only note that they live."""

    def __init__(self, folder: Path, *parts: str, niceness: int = 0) -> None:
        self.out, part = folder / "out", folder / "part"
        self.out.touch()
        part.write_text(PART.format(python=sys.executable))
        part.chmod(0o700)
        program = PROGRAM.format(environment={"OUT": str(self.out)}, niceness=niceness)
        command = [sys.executable, "-c", program, str(part), *parts]
        self.process = subprocess.Popen(command, stderr=subprocess.PIPE, text=True)

    def lines(self) -> list[list[str]]:
        return [line.split() for line in self.out.read_text().splitlines()]

    def pids(self) -> list[int]:
        return [int(pid) for _, pid, _ in self.lines()]

    def stop(self, number: int = signal.SIGTERM) -> str:
        self.process.send_signal(number)
        return self.process.communicate(timeout=10)[1]


def until(true: Callable[[], object]) -> None:
    deadline = time.monotonic() + 10
    while not true():
        assert time.monotonic() < deadline
        time.sleep(0.02)


def alive(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except (FileNotFoundError, ProcessLookupError):
        return False


def test_all_parts_are_started_and_stopped(tmp_path: Path) -> None:
    supervised = Supervised(tmp_path, "web", "sweep")
    until(lambda: len(supervised.lines()) == 2)
    log = supervised.stop()
    assert sorted(name for name, _, _ in supervised.lines()) == ["sweep", "web"]
    assert not any(map(alive, supervised.pids()))
    assert log.count("a part was started") == 2
    assert "all parts have stopped" in log
    assert supervised.process.returncode == 0


def test_a_part_that_is_killed_is_started_again(tmp_path: Path) -> None:
    supervised = Supervised(tmp_path, "web")
    until(lambda: len(supervised.lines()) == 1)
    os.kill(supervised.pids()[0], signal.SIGKILL)
    until(lambda: len(supervised.lines()) == 2)
    assert "a part ended and is started again (in_s=0.5 part=web status=-9)" in supervised.stop()


def test_a_part_that_keeps_dying_is_started_ever_more_seldom(tmp_path: Path) -> None:
    supervised = Supervised(tmp_path, "brief")
    until(lambda: len(supervised.lines()) == 3)
    log = supervised.stop()
    assert [pause for pause in ("in_s=0.5", "in_s=1.0", "in_s=2.0") if pause in log] == ["in_s=0.5", "in_s=1.0"]


def test_a_part_that_does_not_stop_is_killed_with_all_it_forked(tmp_path: Path) -> None:
    supervised = Supervised(tmp_path, "stubborn")
    until(lambda: len(supervised.lines()) == 2)
    assert "did not stop in time" in supervised.stop(signal.SIGINT)
    until(lambda: not any(map(alive, supervised.pids())))


def test_what_a_killed_part_had_forked_does_not_live_on_beside_its_successor(tmp_path: Path) -> None:
    supervised = Supervised(tmp_path, "stubborn")
    until(lambda: len(supervised.lines()) == 2)
    first = supervised.pids()
    os.kill(next(int(pid) for name, pid, _ in supervised.lines() if name == "stubborn"), signal.SIGKILL)
    until(lambda: len(supervised.lines()) == 4)
    assert not any(map(alive, first))
    supervised.stop()


def test_parts_end_with_a_supervisor_that_is_killed(tmp_path: Path) -> None:
    supervised = Supervised(tmp_path, "web", "sweep")
    until(lambda: len(supervised.lines()) == 2)
    supervised.process.kill()
    supervised.process.communicate()
    until(lambda: not any(map(alive, supervised.pids())))


def test_a_part_can_yield_to_the_others(tmp_path: Path) -> None:
    supervised = Supervised(tmp_path, "printing", niceness=5)
    until(lambda: len(supervised.lines()) == 1)
    assert int(supervised.lines()[0][2]) == os.nice(0) + 5
    supervised.stop()


def test_a_worker_sees_the_broker_and_no_secret() -> None:
    full = {
        "PATH": "/bin",
        "LC_ALL": "C.UTF-8",
        "PYTHONPATH": "/x",
        "KINGPOST_DATABASE": "postgresql+psycopg://kingpost:secret@db/kingpost",
        "KINGPOST_DATA": "/srv/kingpost",
        "KINGPOST_BROKER": "broker",
        "AWS_SECRET_ACCESS_KEY": "secret",
        "PGPASSWORD": "secret",
    }
    assert worker_environment(full, "/srv/kingpost/broker") == {
        "PATH": "/bin",
        "LC_ALL": "C.UTF-8",
        "PYTHONPATH": "/x",
        "KINGPOST_BROKER": "/srv/kingpost/broker",
    }
