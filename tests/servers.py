"""PostgreSQL and Redis as the tests need them: own processes on free loopback ports, gone afterwards."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import psycopg
import redis


def free_port() -> int:
    """A port of the loopback address that nobody listens on at the moment."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def program(name: str) -> str:
    """Path of a program that these tests cannot do without."""
    debian = sorted(Path("/usr/lib/postgresql").glob("*/bin"))[-1:]  # Debian keeps PostgreSQL's own tools off the path
    path = shutil.which(name) or shutil.which(name, path=":".join(map(str, debian)))
    assert path, f"{name} is needed for this test; install Debian's packages 'postgresql' and 'redis-server'"
    return path


class RedisServer:
    """A Redis that keeps every write, as deployed; it can be stopped and started again on the same port."""

    def __init__(self, folder: Path) -> None:
        self.port = free_port()
        self.address = f"redis://127.0.0.1:{self.port}/0"
        options = {"--port": self.port, "--bind": "127.0.0.1", "--dir": folder, "--appendonly": "yes", "--save": ""}
        options["--maxmemory-policy"] = "noeviction"
        self.command = [program("redis-server"), *(str(word) for option in options.items() for word in option)]

    def start(self) -> None:
        self.process = subprocess.Popen(self.command, stdout=subprocess.DEVNULL)
        with redis.Redis(port=self.port) as client:
            _until(client.ping, redis.exceptions.ConnectionError)

    def stop(self) -> None:
        self.process.kill()
        self.process.wait()

    def __enter__(self) -> RedisServer:
        self.start()
        return self

    def __exit__(self, *_: object) -> None:
        self.stop()


@contextmanager
def redis_server(folder: Path) -> Iterator[tuple[str, subprocess.Popen[bytes]]]:
    """Address and process of a Redis."""
    with RedisServer(folder) as server:
        yield server.address, server.process


@contextmanager
def postgresql_server() -> Iterator[str]:
    """SQLAlchemy address of an empty PostgreSQL; run as another user where we are root, as it demands.

    Its folder is not one of pytest's: every new run of pytest closes those to other users, while it is in use.
    """
    place = tempfile.TemporaryDirectory(prefix="kingpost-postgresql-", ignore_cleanup_errors=True)
    with place as folder, _postgresql_in(Path(folder)) as address:
        yield address


@contextmanager
def _postgresql_in(folder: Path) -> Iterator[str]:
    user = "postgres" if os.getuid() == 0 else None
    data = folder / "data"
    data.mkdir()
    if user:
        shutil.chown(folder, user)
        shutil.chown(data, user)
    port = free_port()
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "user": user, "cwd": folder}
    initdb = [program("initdb"), "-D", data, "-U", "kingpost", "--auth=trust", "--no-sync", "-E", "UTF8"]
    subprocess.run(initdb, check=True, **quiet)
    settings = ["-c", "fsync=off", "-c", f"unix_socket_directories={folder}", "-c", "listen_addresses=127.0.0.1"]
    with (folder / "postgresql.log").open("wb") as log:  # read it where a test finds the server gone
        told = {**quiet, "stderr": log}
        process = subprocess.Popen([program("postgres"), "-D", data, "-p", str(port), *settings], **told)
    try:
        dsn = f"host=127.0.0.1 port={port} user=kingpost dbname=postgres"
        _until(lambda: psycopg.connect(dsn).close(), psycopg.OperationalError)
        yield f"postgresql+psycopg://kingpost@127.0.0.1:{port}/postgres"
    finally:
        process.send_signal(2)  # SIGINT: the fast shutdown
        process.wait()


def _until(works, *errors: type[Exception]) -> None:
    deadline = time.monotonic() + 20
    while time.monotonic() < deadline:
        with suppress(*errors):
            works()
            return
        time.sleep(0.05)
    raise AssertionError("the server did not come up")
