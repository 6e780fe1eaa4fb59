"""Each fault is tried with both brokers."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.servers import postgresql_server, redis_server


@pytest.fixture(params=["folder", "redis"])
def broker(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """Address of a broker; nothing for the folder that every data folder has."""
    if request.param == "folder":
        yield ""
        return
    with redis_server(tmp_path) as (address, _):
        yield address


@pytest.fixture
def postgresql_address(tmp_path: Path) -> Iterator[str]:
    """An empty PostgreSQL."""
    folder = tmp_path / "postgresql"
    folder.mkdir()
    with postgresql_server(folder) as address:
        yield address
