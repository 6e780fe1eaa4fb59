"""How the tables came to be: each change is one revision, and :func:`upgrade` brings a database up to date."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Engine, text

_ONE_AT_A_TIME = 5_464_787
"""Key of the lock under which PostgreSQL lets one part upgrade while the others wait."""


def upgrade(engine: Engine) -> None:
    """Bring the database to the newest revision; does nothing where it is there already."""
    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent).replace("%", "%%"))
    with engine.begin() as connection:
        if connection.dialect.name == "postgresql":
            connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _ONE_AT_A_TIME})
        config.attributes["connection"] = connection
        command.upgrade(config, "head")
