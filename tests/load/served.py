"""A school with one class, served for a measurement by the real ``kingpost serve`` on a folder of its own."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from rubric import library
from service.classes.setting import set_assignment
from service.demo.visitor import Visitor
from service.people.enrol import SignIn, add_class, set_school
from service.records.engine import Records, open_records
from service.records.migrations import upgrade
from tests.servers import free_port


@contextmanager
def served(folder: Path, pupils: int) -> Iterator[tuple[str, Records, list[SignIn], str]]:
    """A service of its own with one class; its address, its records, the sign-ins and the assignment's path."""
    records = open_records(f"sqlite:///{folder}/kingpost.sqlite")
    upgrade(records.engine)
    with records.write() as session:
        set_school(session, "Lantern Hill School")
        known = add_class(session, "Class 8B", "8B", [f"Pupil {number}" for number in range(1, pupils + 1)])
        brief, rubric = library.brief_text("footbridge"), library.rubric_text("footbridge")
        given, _ = set_assignment(session, "8B", brief, rubric)
    port = free_port()
    environment = {k: v for k, v in os.environ.items() if not k.startswith("KINGPOST_")}
    environment |= {"KINGPOST_DATA": str(folder), "KINGPOST_PORT": str(port)}
    command = [sys.executable, "-m", "rubric.commandline", "serve"]
    server = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        _wait_for(f"http://127.0.0.1:{port}")
        yield f"http://127.0.0.1:{port}", records, known, f"/assignments/{given.id}"
    finally:
        server.terminate()
        server.wait(30)
        records.engine.dispose()


def _wait_for(site: str) -> None:
    deadline = time.monotonic() + 60
    while True:
        try:
            Visitor(site).get("/health")
            break
        except OSError:
            assert time.monotonic() < deadline, "the service did not start"
            time.sleep(0.1)
    time.sleep(3)  # the workers have started too
