"""``kingpost backup``: a whole copy of what is kept, while Kingpost runs."""

from __future__ import annotations

import argparse
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

from sqlalchemy.engine import URL, make_url

from service.commands.starting import CannotStart, with_settings
from service.settings import Settings

DATABASE, KEY = "kingpost.sqlite", "secret-key"
"""What a data folder holds that cannot be made again; the embedded broker's messages are sent again from the rows."""


def command(arguments: list[str]) -> int:
    """Copy all that is kept into a new folder, while Kingpost runs."""
    parser = argparse.ArgumentParser("kingpost backup", description=command.__doc__)
    parser.add_argument("folder", type=Path, help="a folder that is not there yet; it becomes a KINGPOST_DATA")
    options = parser.parse_args(arguments)
    return with_settings("backup", lambda settings: _copy(settings, options.folder))


def _copy(settings: Settings, folder: Path) -> None:
    """Write the copy under another name first, so that a folder of the name asked for is always whole."""
    source = _sqlite_file(settings.database)
    aside = folder.with_name(f"{folder.name}.unfinished")
    if folder.exists():
        raise CannotStart(f"{folder} is there already, and a backup overwrites nothing. Name a new folder.")
    try:
        shutil.rmtree(aside, ignore_errors=True)
        aside.mkdir(mode=0o700, parents=True)
        # The key first: it never changes once it is made, and rows are of no use to anybody signed in without it.
        if (settings.data / KEY).exists():
            shutil.copy2(settings.data / KEY, aside / KEY)
        copy_database(source, aside / DATABASE)
        aside.rename(folder)
    except (OSError, sqlite3.Error) as error:
        raise CannotStart(f"no backup was made ({error}). Is there room, and may this user write there?") from None
    size_MB = (folder / DATABASE).stat().st_size / 1e6
    print(f"{folder} holds all that is kept ({size_MB:.1f} MB). Try it: KINGPOST_DATA={folder} kingpost serve")  # noqa: T201


def copy_database(source: Path, target: Path) -> None:
    """One moment of an SQLite database, whoever writes meanwhile, and looked over when it is copied.

    Raises
    ------
    OSError
        There is none, or the copy is not whole.
    sqlite3.Error
        It cannot be read or written.
    """
    if not source.is_file():
        raise FileNotFoundError(f"there is no database {source}; look at KINGPOST_DATA")
    with closing(sqlite3.connect(source)) as kept, closing(sqlite3.connect(target)) as copy:
        kept.backup(copy)
        (verdict,) = copy.execute("PRAGMA quick_check").fetchone()
    if verdict != "ok":
        raise OSError(f"the copy is not whole: {verdict}")


def _sqlite_file(address: str) -> Path:
    url = make_url(address)
    if url.get_backend_name() == "sqlite":
        return Path(url.database or "")
    plain = URL.create("postgresql", url.username, None, url.host, url.port, url.database).render_as_string()
    raise CannotStart(
        f"the database is PostgreSQL, which has its own way: pg_dump --format=custom --file=kingpost.dump {plain} "
        "(it asks for the password). Copy the secret-key of KINGPOST_DATA as well. pg_restore brings it back."
    )
