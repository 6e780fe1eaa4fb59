"""What tests of the service share: an empty database of either kind."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text

from service.records.engine import Records, open_records
from service.records.migrations import upgrade
from tests.servers import postgresql_server
from tests.service.site import site as site


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    """An empty SQLite database at the newest revision."""
    opened = open_records(f"sqlite:///{tmp_path}/records/kingpost.sqlite")
    upgrade(opened.engine)
    yield opened
    opened.engine.dispose()


@pytest.fixture(scope="session")
def postgresql_address() -> Iterator[str]:
    """A PostgreSQL for the whole run."""
    with postgresql_server() as address:
        yield address


@pytest.fixture(params=["sqlite", "postgresql"])
def either(request: pytest.FixtureRequest) -> Iterator[Records]:
    """An empty database of each kind in turn, for what must hold on both."""
    if request.param == "sqlite":
        yield request.getfixturevalue("records")
        return
    opened = open_records(request.getfixturevalue("postgresql_address"))
    with opened.engine.begin() as connection:
        connection.execute(text("DROP SCHEMA public CASCADE"))
        connection.execute(text("CREATE SCHEMA public"))
    upgrade(opened.engine)
    yield opened
    opened.engine.dispose()
