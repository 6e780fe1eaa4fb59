"""What most tests of the service begin with, made once in a process and copied: it takes longer to make than they take."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

import argon2
import pytest

from service.people import passwords
from service.records import engine
from service.records.engine import Records, open_records
from service.records.migrations import upgrade

_PREPARE = engine._prepare
_SWIFT = argon2.PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)
_NOBODY = _SWIFT.hash("nobody")


def swift_passwords(patch: pytest.MonkeyPatch) -> None:
    """Hashes at the least cost; that of the product is held by ``tests/service/people/test_passwords.py``."""
    patch.setattr(passwords, "_HASHER", _SWIFT)
    patch.setattr(passwords, "_NOBODY", _NOBODY)


def swift_disk(patch: pytest.MonkeyPatch) -> None:
    """SQLite does not wait for the disk; that the product does is held by ``tests/service/records/test_engine.py``."""

    def prepare(connection: Any, record: Any) -> None:
        _PREPARE(connection, record)
        connection.execute("PRAGMA synchronous=OFF")

    patch.setattr(engine, "_prepare", prepare)


@contextmanager
def swift() -> Iterator[None]:
    """Both, for fixtures that serve several tests."""
    with pytest.MonkeyPatch.context() as patch:
        swift_passwords(patch)
        swift_disk(patch)
        yield


def empty_records(file: Path) -> Records:
    """An empty SQLite database at the newest revision, in this file."""
    opened = open_records(f"sqlite:///{file}")
    lay(_newest(), opened)
    return opened


def lay(content: bytes, records: Records) -> None:
    """Put this content in the place of what a SQLite database holds."""
    records.engine.dispose()
    Path(records.engine.url.database or "").write_bytes(content)


def content_of(make: Callable[[Records], object], begun: bytes = b"") -> bytes:
    """The file of a SQLite database after ``make``."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "kingpost.sqlite"
        file.write_bytes(begun)
        opened = open_records(f"sqlite:///{file}")
        make(opened)
        opened.engine.dispose()  # which writes the journal into the file
        return file.read_bytes()


@cache
def _newest() -> bytes:
    return content_of(lambda records: upgrade(records.engine))
