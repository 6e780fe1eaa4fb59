"""The real ``kingpost serve`` beside a demo, and how much memory it takes."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from service.commands.starting import CannotStart
from service.demo.visitor import Visitor
from service.settings import Settings


@contextmanager
def serving(settings: Settings, *options: str) -> Iterator[subprocess.Popen[bytes]]:
    """``kingpost serve`` on the demo's data folder; stopped at the end, whatever happens."""
    command = [sys.executable, "-m", "rubric.commandline", "serve", *options]
    with (settings.data / "serve.log").open("ab") as log:
        server = subprocess.Popen(command, stdout=log, stderr=log, process_group=0)  # noqa: S603 - our own
    try:
        yield server
    finally:
        server.send_signal(signal.SIGTERM)
        try:
            server.wait(20)
        except subprocess.TimeoutExpired:
            server.kill()


def wait_for(site: str, server: subprocess.Popen[bytes]) -> None:
    """Until the pages come.

    Raises
    ------
    CannotStart
        They do not.
    """
    deadline = time.monotonic() + 60
    while time.monotonic() < deadline and server.poll() is None:
        try:
            Visitor(site).get("/health")
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise CannotStart("the service did not start; serve.log in the demo's folder says why")


class Memory:
    """The most memory that a process and all below it took together, MB, looked at twice a second (Linux)."""

    def __init__(self) -> None:
        self.peak_MB = 0.0
        self._over = threading.Event()

    @contextmanager
    def watched(self, process: int) -> Iterator[None]:
        """Look while something is done."""
        self._over.clear()
        watcher = threading.Thread(target=self._watch, args=(process,), daemon=True)
        watcher.start()
        try:
            yield
        finally:
            self._over.set()
            watcher.join()

    def _watch(self, process: int) -> None:
        while not self._over.wait(0.5):
            self.peak_MB = max(self.peak_MB, sum(map(_resident_MB, _family(process))))


def _family(process: int) -> Iterator[int]:
    yield process
    try:
        below = Path(f"/proc/{process}/task/{process}/children").read_text("ascii").split()
    except OSError:
        return
    for child in below:
        yield from _family(int(child))


def _resident_MB(process: int) -> float:
    """Its own share of what it holds: what several hold together is counted once."""
    try:
        text = Path(f"/proc/{process}/smaps_rollup").read_text("ascii")
    except OSError:
        return 0.0
    found = re.search(r"^Pss:\s+(\d+) kB", text, re.MULTILINE)
    return int(found[1]) / 1024 if found else 0.0
