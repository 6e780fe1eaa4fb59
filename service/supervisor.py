"""Starts the parts of Kingpost as processes, and starts again what dies.

Each part leads a process group of its own, so that a worker can be ended with all it forked.  On
Linux a part is told to stop when its supervisor dies, however that comes about.
"""

from __future__ import annotations

import ctypes
import logging
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import FrameType

log = logging.getLogger(__name__)

FIRST_PAUSE_S, LONGEST_PAUSE_S = 0.25, 15.0
"""How long to wait before a part is started again; doubled each time it dies young."""

SETTLED_S = 20.0
"""A part that lived this long did not die young."""

GRACE_S = 10.0
"""How long a part may take to stop before it is killed."""

WORKER_KEEPS = frozenset({"PATH", "HOME", "LANG", "LANGUAGE", "TZ", "TMPDIR", "VIRTUAL_ENV", "XDG_CACHE_HOME"})
WORKER_KEEPS_PREFIXES = ("LC_", "PYTHON", "FONTCONFIG_")

_PR_SET_PDEATHSIG = 1  # Linux, <sys/prctl.h>


@dataclass(frozen=True)
class Part:
    """What is started: arguments of ``kingpost``, the environment, how far it yields to others."""

    name: str
    arguments: tuple[str, ...]
    environment: Mapping[str, str]
    niceness: int = 0
    confine: Callable[[], None] | None = None
    """Called in the new process before the program begins."""
    folder: Path | None = None
    """What is open to a confined part is this very folder: made anew, it is another one, and the part begins anew."""


@dataclass
class _Running:
    part: Part
    process: subprocess.Popen[bytes] | None = None
    started_at: float = 0.0
    pause_s: float = FIRST_PAUSE_S
    start_at: float = 0.0
    folder_was: int | None = None


def worker_environment(environment: Mapping[str, str], broker: str) -> dict[str, str]:
    """What a worker gets to see: the broker and where to find programs, languages and fonts; no secrets."""
    kept = {
        name: value
        for name, value in environment.items()
        if name in WORKER_KEEPS or name.startswith(WORKER_KEEPS_PREFIXES)
    }
    return kept | {"KINGPOST_BROKER": broker}


@dataclass
class Supervisor:
    """Keeps parts running until :meth:`stop` or a signal."""

    parts: list[Part]
    grace_s: float = GRACE_S
    _running: list[_Running] = field(default_factory=list)
    _stopping: bool = False
    _signal: int = 0

    def run(self) -> None:
        """Start all parts and look after them until SIGTERM or SIGINT; then stop them all."""
        for number in (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, self._told_to_stop)
        self._running = [_Running(part) for part in self.parts]
        try:
            while not self._stopping:
                for running in self._running:
                    self._look_after(running)
                time.sleep(0.1)
        finally:
            self._stop_all()

    def _told_to_stop(self, number: int, frame: FrameType | None) -> None:
        self._stopping = True
        self._signal = number

    def _look_after(self, running: _Running) -> None:
        moment = time.monotonic()
        if running.process is None:
            if moment >= running.start_at:
                self._start(running, moment)
            return
        status = running.process.poll()
        if status is None:
            there = _number_of(running.part.folder)
            if there is None or there == running.folder_was:
                return
            log.warning("the folder of a part was made anew", extra={"part": running.part.name})
        _kill_group(running.process)  # what it had forked must not live on beside its successor
        young = moment - running.started_at < SETTLED_S
        running.pause_s = min(2 * running.pause_s, LONGEST_PAUSE_S) if young else FIRST_PAUSE_S
        running.process, running.start_at = None, moment + running.pause_s
        log.warning(
            "a part ended and is started again",
            extra={"part": running.part.name, "status": status, "in_s": running.pause_s},
        )

    def _start(self, running: _Running, moment: float) -> None:
        part, supervisor = running.part, os.getpid()
        running.folder_was = _number_of(part.folder)

        def prepare() -> None:
            if sys.platform == "linux":
                ctypes.CDLL(None).prctl(_PR_SET_PDEATHSIG, signal.SIGTERM)
            if os.getppid() != supervisor:  # it died before we could ask to be told
                os._exit(1)
            os.nice(part.niceness)
            if part.confine is not None:
                part.confine()

        running.process = subprocess.Popen(  # noqa: S603 - our own program
            [sys.executable, "-m", "rubric.commandline", *part.arguments],
            env=dict(part.environment),
            stdin=subprocess.DEVNULL,
            process_group=0,
            preexec_fn=prepare,  # safe: this process has one thread
        )
        running.started_at = moment
        log.info("a part was started", extra={"part": part.name, "pid": running.process.pid})

    def _stop_all(self) -> None:
        processes = [running.process for running in self._running if running.process]
        for process in processes:
            process.terminate()
        deadline = time.monotonic() + self.grace_s
        for process in processes:
            try:
                process.wait(max(deadline - time.monotonic(), 0.01))
            except subprocess.TimeoutExpired:
                log.warning("a part did not stop in time and is killed", extra={"pid": process.pid})
            _kill_group(process)
            process.wait()
        log.info("all parts have stopped", extra={"signal": self._signal})


def _number_of(folder: Path | None) -> int | None:
    """The file system's number of a folder that is there."""
    try:
        return folder.stat().st_ino if folder else None
    except OSError:
        return None


def _kill_group(process: subprocess.Popen[bytes]) -> None:
    try:
        os.killpg(process.pid, signal.SIGKILL)
    except ProcessLookupError:
        return
