"""How the tables came to be: each change is one revision, and :func:`upgrade` brings a database up to date."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Engine


def upgrade(engine: Engine) -> None:
    """Bring the database to the newest revision; does nothing where it is there already."""
    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent).replace("%", "%%"))
    with engine.begin() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "head")
