"""What tests of the service share: an empty database of either kind."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine, create_engine, text

from service.records.engine import Records, open_records
from service.records.migrations import upgrade
from tests.servers import postgresql_server
from tests.service.ready import empty_records, swift_disk
from tests.service.site import site as site


@pytest.fixture(autouse=True)
def disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """No test waits for the disk."""
    swift_disk(monkeypatch)


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    """An empty SQLite database at the newest revision."""
    opened = empty_records(tmp_path / "records/kingpost.sqlite")
    yield opened
    opened.engine.dispose()


@pytest.fixture(scope="session")
def postgresql_address() -> Iterator[str]:
    """A PostgreSQL for the whole run."""
    with postgresql_server() as address:
        yield address


@pytest.fixture(scope="session")
def newest(postgresql_address: str) -> Iterator[Engine]:
    """That PostgreSQL, with a database ``newest`` at the newest revision, which others are copies of."""
    server = create_engine(postgresql_address, isolation_level="AUTOCOMMIT")
    with server.connect() as connection:
        connection.execute(text("CREATE DATABASE newest"))
    made = create_engine(server.url.set(database="newest"))
    upgrade(made)
    made.dispose()  # what somebody is connected to cannot be copied
    yield server
    server.dispose()


@pytest.fixture(params=["sqlite", "postgresql"])
def either(request: pytest.FixtureRequest) -> Iterator[Records]:
    """An empty database of each kind in turn, for what must hold on both."""
    if request.param == "sqlite":
        yield request.getfixturevalue("records")
        return
    server = request.getfixturevalue("newest")
    with server.connect() as connection:
        connection.execute(text("DROP DATABASE IF EXISTS copied WITH (FORCE)"))
        connection.execute(text("CREATE DATABASE copied TEMPLATE newest"))
    opened = open_records(server.url.set(database="copied").render_as_string(hide_password=False))
    yield opened
    opened.engine.dispose()
