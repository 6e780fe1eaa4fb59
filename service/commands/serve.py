"""``kingpost serve``: everything on one machine."""

from __future__ import annotations

import argparse
import fcntl
import logging
import os
import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path

from sqlalchemy.engine import make_url

from rubric.messages.names import MARKING, PRINTING, SKETCHING
from rubric.spelling import did_you_mean
from service import confining
from service.commands.starting import CannotStart, opened_records, with_settings
from service.settings import Settings
from service.supervisor import Part, Supervisor, worker_environment

log = logging.getLogger(__name__)

PARTS = ("web", "recorder", "sweep", MARKING, PRINTING, SKETCHING)

NICENESS = {MARKING: 5, PRINTING: 10, SKETCHING: 10}
"""Pages do not wait for marks, nor marks for sheets or for those who still type, not even for the processor."""


def command(arguments: list[str]) -> int:
    """Run and look after all parts on this machine: pages, recorder, sweep and workers."""
    parser = argparse.ArgumentParser("kingpost serve", description=command.__doc__)
    parser.add_argument("--parts", default=",".join(PARTS), help=f"only these (default: {','.join(PARTS)})")
    parser.add_argument("--marking", type=int, default=2, metavar="N", help="marking processes (default: 2)")
    parser.add_argument("--printing", type=int, default=2, metavar="N", help="printing processes (default: 2)")
    parser.add_argument("--sketching", type=int, default=1, metavar="N", help="for those who still type (default: 1)")
    options = parser.parse_args(arguments)
    chosen = [name.strip() for name in options.parts.split(",")]
    for name in chosen:
        if name not in PARTS:
            parser.error(f"argument --parts: there is no part '{name[:40]}': {did_you_mean(name, PARTS)}")
    processes = {MARKING: options.marking, PRINTING: options.printing, SKETCHING: options.sketching}
    for name, count in processes.items():
        if not 1 <= count <= 64:
            parser.error(f"argument --{name}: found {count}; expected 1 to 64")
    return with_settings("serve", partial(_serve, chosen=chosen, processes=processes))


def _serve(settings: Settings, chosen: list[str], processes: dict[str, int]) -> None:
    with _only_one(settings.data):
        if "web" in chosen:
            _check_port(settings)
        opened_records(settings).engine.dispose()
        Supervisor([_part(name, settings, processes) for name in chosen]).run()


def _part(name: str, settings: Settings, processes: dict[str, int]) -> Part:
    if name not in processes:
        return Part(name, (name,), dict(os.environ))
    environment = worker_environment(os.environ, settings.broker)
    arguments = ("work", name, "--processes", str(processes[name]))
    folder = None if "://" in settings.broker else Path(settings.broker)
    return Part(name, arguments, environment, NICENESS[name], _confinement(settings), folder)


def _confinement(settings: Settings) -> Callable[[], None] | None:
    if confining.is_possible():
        return confining.confinement(_open_to_workers(settings))
    log.warning("this system cannot keep workers from the data folder")
    return None


def _open_to_workers(settings: Settings) -> list[Path]:
    """The disk without the data folder and the database; of the data folder the embedded broker."""
    hidden, kept = [settings.data], []
    file = make_url(settings.database).database if settings.database.startswith("sqlite") else None
    if file:
        hidden += [Path(f"{file}{ending}") for ending in ("", "-wal", "-shm", "-journal")]
    if "://" not in settings.broker:
        kept = [Path(settings.broker)]
        kept[0].mkdir(mode=0o700, parents=True, exist_ok=True)
    return confining.open_to(hidden, kept)


@contextmanager
def _only_one(data: Path) -> Iterator[None]:
    """Hold the data folder for this process; the lock ends with the process, however that ends."""
    try:
        data.mkdir(mode=0o700, parents=True, exist_ok=True)
        lock = (data / "serve.lock").open("w")
    except OSError as error:
        raise CannotStart(
            f"the data folder {data} cannot be written ({error.strerror}); expected a folder that this user "
            "may write. Change its owner, or set KINGPOST_DATA."
        ) from None
    with lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            raise CannotStart(
                f"another 'kingpost serve' runs on the data folder {data}; stop that one, or set KINGPOST_DATA "
                "to another folder."
            ) from None
        yield


def _check_port(settings: Settings) -> None:
    try:
        family, kind, protocol, _, address = socket.getaddrinfo(
            settings.host, settings.port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )[0]
        with socket.socket(family, kind, protocol) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(address)
    except OSError as error:
        raise CannotStart(
            f"cannot listen on {settings.host} port {settings.port} ({error.strerror}); expected a free port. "
            "Stop what uses it, or set KINGPOST_PORT."
        ) from None
