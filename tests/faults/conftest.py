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
def postgresql_address() -> Iterator[str]:
    """An empty PostgreSQL."""
    with postgresql_server() as address:
        yield address
