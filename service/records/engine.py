"""The engine: SQLite on one host or PostgreSQL on many, the same code for both.

A session either reads or writes, and says so when it opens: ``records.read()`` refuses to write,
``records.write()`` takes SQLite's only writing place at once (``BEGIN IMMEDIATE``).  Without that,
four writers that began as readers lost 443 of 600 updates without a word.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import make_url
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

POOL = {"pool_size": 16, "max_overflow": 48}
"""Two connections for each of the 32 threads that serve pages: one that reads, one that writes."""

BUSY_TIMEOUT_S = 15
"""How long a writer waits for its turn."""


@dataclass(frozen=True)
class Records:
    """The database.  Objects stay readable after their session has ended."""

    engine: Engine

    @contextmanager
    def read(self) -> Iterator[Session]:
        """A session that sees one moment of the database and cannot write."""
        with self._session(writing=False) as session:
            yield session

    @contextmanager
    def write(self) -> Iterator[Session]:
        """A session that commits at the end, or leaves nothing behind when an exception passes through."""
        with self._session(writing=True) as session, session.begin():
            yield session

    def _session(self, *, writing: bool) -> Session:
        # postgresql_readonly makes PostgreSQL refuse what query_only refuses on SQLite.
        bind = self.engine.execution_options(writing=writing, postgresql_readonly=not writing)
        return Session(bind, expire_on_commit=False)


def open_records(address: str) -> Records:
    """Open the database at a SQLAlchemy address; the folder of a SQLite file is made."""
    url = make_url(address)
    if url.get_backend_name() != "sqlite":
        return Records(create_engine(url, pool_pre_ping=True, **POOL))
    if url.database and url.database != ":memory:":
        Path(url.database).parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    engine = create_engine(
        url, connect_args={"timeout": BUSY_TIMEOUT_S, "check_same_thread": False}, **_pool_of(url.database)
    )
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return Records(engine)


def _pool_of(database: str | None) -> dict[str, int]:
    return {} if not database or database == ":memory:" else POOL  # memory lives in one connection


def rewrite(records: Records) -> bool:
    """Write the files of the database anew, without what was deleted; False where somebody was in the way.

    On SQLite the journal is emptied too.  PostgreSQL's own journal goes by its own rules.
    """
    if records.engine.dialect.name != "sqlite":
        with records.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
            connection.exec_driver_sql("VACUUM (FULL, ANALYZE)")
        return True
    raw = records.engine.raw_connection()
    try:
        run = raw.cursor().execute
        run("PRAGMA query_only=OFF")
        run("VACUUM")
        return bool(run("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0] == 0)
    finally:
        raw.close()


def is_disk_full(error: BaseException) -> bool:
    """Whether a write failed because there was no room: SQLite or PostgreSQL, or the disk itself."""
    cause = error.orig if isinstance(error, DBAPIError) else error
    if getattr(cause, "sqlite_errorname", "") == "SQLITE_FULL" or getattr(cause, "sqlstate", "") == "53100":
        return True
    return isinstance(cause, OSError) and cause.errno in (28, 122)  # ENOSPC, EDQUOT


def _prepare(connection: Any, _: Any) -> None:
    connection.isolation_level = None  # the driver would begin by itself, and too late
    # secure_delete: what is deleted is overwritten, so that no name stays behind in the file.
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "secure_delete=ON"):
        connection.execute(f"PRAGMA {pragma}")


def _begin(connection: Connection) -> None:
    writing = connection.get_execution_options().get("writing", True)
    connection.exec_driver_sql(f"PRAGMA query_only={'OFF' if writing else 'ON'}")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")
