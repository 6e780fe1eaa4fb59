"""How the tables came to be: each change is one revision, and :func:`upgrade` brings a database up to date."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, Engine, text

_ONE_AT_A_TIME = 5_464_787
"""Key of the lock under which PostgreSQL lets one part upgrade while the others wait."""


def upgrade(engine: Engine, revision: str = "head") -> None:
    """Bring the database to a revision, the newest by default; does nothing where it is there already."""
    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent).replace("%", "%%"))
    with engine.connect() as connection, _without_checking_references(connection), connection.begin():
        if connection.dialect.name == "postgresql":
            connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _ONE_AT_A_TIME})
        config.attributes["connection"] = connection
        command.upgrade(config, revision)
        if connection.dialect.name == "sqlite":
            dangling = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
            assert not dangling, dangling


@contextmanager
def _without_checking_references(connection: Connection) -> Iterator[None]:
    """SQLite changes a table by copying it and dropping the old one, to which other rows refer meanwhile.

    The pragma has no effect within a transaction, so it is given before one begins.
    """
    if connection.dialect.name != "sqlite":
        yield
        return
    raw = connection.connection.dbapi_connection
    assert raw is not None
    raw.cursor().execute("PRAGMA foreign_keys=OFF")
    try:
        yield
    finally:
        raw.cursor().execute("PRAGMA foreign_keys=ON")
