"""``kingpost demo``: the real service with an invented school in it."""

from __future__ import annotations

import argparse
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from service.commands.starting import CannotStart, opened_records, with_settings
from service.demo import filling, report
from service.demo.season import show as season
from service.demo.serving import serving, wait_for
from service.demo.visitor import Refused, Visitor
from service.records.engine import Records
from service.sending import Sending
from service.settings import Settings

PATIENCE_S = 300
"""How long the demo waits for all marks and sheets before it says what is missing."""


@dataclass(frozen=True)
class Options:
    """What the person chose."""

    folder: Path
    out: Path
    port: int
    exit: bool


def command(arguments: list[str]) -> int:
    """Show an invented school: its hand-ins marked and printed, served until Ctrl-C."""
    parser = argparse.ArgumentParser("kingpost demo", description=command.__doc__)
    parser.add_argument("--exit", action="store_true", help="stop after the table")
    parser.add_argument("--fresh", action="store_true", help="make the school anew")
    parser.add_argument("--season", action="store_true", help="play a whole season: 540 hand-ins and a contest day")
    parser.add_argument("--folder", type=Path, help="where its data is kept (default: .demo, or .demo-season)")
    parser.add_argument("--out", type=Path, default=Path("demo-out"), help="for sheets and boards (default: demo-out)")
    parser.add_argument("--port", type=int, default=8000, help="first port to try (default: 8000)")
    given = parser.parse_args(arguments)
    folder = given.folder or Path(".demo-season" if given.season else ".demo")
    if given.fresh or given.season:
        shutil.rmtree(folder, ignore_errors=True)
    options = Options(folder.absolute(), given.out.absolute(), _free_port(given.port), given.exit)
    # The demo keeps to its own folder and its own broker, whatever this machine is set up for.
    for name in [name for name in os.environ if name.startswith("KINGPOST_")]:
        del os.environ[name]
    os.environ["KINGPOST_DATA"] = str(options.folder)
    os.environ["KINGPOST_PORT"] = str(options.port)
    if given.season:
        return with_settings("demo", lambda settings: season.show(settings, options.out / "season"))
    return with_settings("demo", lambda settings: _show(settings, options))


def _told(refused: Refused) -> CannotStart:
    return CannotStart(f"the service did not take a step of the demo: {refused}. Try again with --fresh.")


def _show(settings: Settings, options: Options) -> None:
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))  # so that the service is stopped too
    records = opened_records(settings)
    known = filling.sign_ins(records, options.folder, Sending(records, settings.broker).send)
    with serving(settings) as server:
        site = f"http://127.0.0.1:{settings.port}"
        wait_for(site, server)
        began = time.monotonic()
        try:
            filling.hand_all_in(Visitor, site, records, known, _say)
            _wait_until_done(records, server)
            _say(f"All marked and printed {time.monotonic() - began:.1f} s after the first hand-in.")
            report.save(Visitor(site), records, known, options.out)
        except Refused as refused:
            raise _told(refused) from None
        print(report.table(records), report.signed(site, known), sep="\n\n", flush=True)  # noqa: T201
        _say(f"Sheets, marks and leaderboards are in {options.out}")
        if not options.exit:
            _say(f"Serving at {site} until Ctrl-C.")
            with _quiet_interrupt():
                server.wait()


def _wait_until_done(records: Records, server: subprocess.Popen[bytes]) -> None:
    deadline = time.monotonic() + PATIENCE_S
    told = None
    while (count := filling.progress(records)) and (count.marked < count.of or count.printed < count.of):
        if server.poll() is not None or time.monotonic() > deadline:
            raise CannotStart(
                f"{count.of - count.marked} files were not marked; serve.log in the demo's folder says why"
            )
        if told != count:
            _say(f"{count.marked} of {count.of} marked, {count.printed} printed")
            told = count
        time.sleep(0.5)
    _say(f"{count.marked} of {count.of} marked, {count.printed} printed")


@contextmanager
def _quiet_interrupt() -> Iterator[None]:
    try:
        yield
    except KeyboardInterrupt:
        _say("Stopping.")


def _free_port(first: int) -> int:
    for port in range(first, min(first + 50, 65536)):
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            if probe.connect_ex(("127.0.0.1", port)) != 0:
                return port
    return first


def _say(text: str) -> None:
    print(text, file=sys.stderr, flush=True)  # noqa: T201
