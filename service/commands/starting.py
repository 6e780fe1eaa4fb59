"""What every part does first: settings, logging, the database at its newest revision."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable

from sqlalchemy.exc import SQLAlchemyError

from rubric.logs import set_up_logging
from service.records.engine import Records, open_records
from service.records.migrations import upgrade
from service.settings import SettingError, Settings, load


class CannotStart(Exception):
    """Why a part does not start, for the person who deploys it."""


def with_settings(part: str, work: Callable[[Settings], None]) -> int:
    """Run a part; an exit status of 2 and one line on standard error where it cannot start."""
    os.umask(0o077)  # names and hashes are for this user alone, in whatever folder they are kept
    try:
        settings = load()
        set_up_logging(part)
        work(settings)
    except (SettingError, CannotStart) as error:
        print(f"kingpost {part}: {error}", file=sys.stderr)  # noqa: T201
        return 2
    return 0


def opened_records(settings: Settings) -> Records:
    """The database, upgraded.

    Raises
    ------
    CannotStart
        Where it cannot be opened.
    """
    try:
        records = open_records(settings.database)
        upgrade(records.engine)
    except (SQLAlchemyError, OSError) as error:
        cause = str(getattr(error, "orig", None) or error).strip().partition("\n")[0]
        raise CannotStart(
            f"the database cannot be opened ({cause}); expected one that this user may write. "
            "Look at KINGPOST_DATABASE and KINGPOST_DATA."
        ) from None
    return records
