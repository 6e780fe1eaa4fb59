"""How pages say times, places and counts."""

from __future__ import annotations

import re
import unicodedata
from datetime import UTC, datetime
from zoneinfo import ZoneInfo


def here(moment: datetime, zone: str) -> datetime:
    """A moment of the tables (UTC without zone) on the school's clock."""
    return moment.replace(tzinfo=UTC).astimezone(ZoneInfo(zone))


def to_utc(moment: datetime, zone: str) -> datetime:
    """A moment on the school's clock as the tables keep it (UTC without zone)."""
    return moment.replace(tzinfo=ZoneInfo(zone)).astimezone(UTC).replace(tzinfo=None)


_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = tuple("January February March April May June July August September October November December".split())


def moment_said(moment: datetime, zone: str) -> str:
    """``Mon 15 March 2027, 16:00``, on the school's clock."""
    local = here(moment, zone)
    return f"{_DAYS[local.weekday()]} {local.day} {_MONTHS[local.month - 1]} {local.year}, {local:%H:%M}"


def wait_said(seconds: int) -> str:
    """``8 seconds``, ``2 minutes``; minutes are rounded up."""
    if seconds < 90:
        return f"{seconds} second{'' if seconds == 1 else 's'}"
    return f"{-(-seconds // 60)} minutes"


def ahead_said(before: int | None) -> str:
    """Where a file stands in the queue; nothing where it does not wait."""
    if before is None:
        return ""
    if before == 0:
        return "Yours is next."
    return "One file is before yours." if before == 1 else f"{before} files are before yours."


def ordinal(rank: int) -> str:
    """``1st``, ``2nd``, ``3rd``, ``11th``."""
    teen = 10 <= rank % 100 <= 20
    return f"{rank}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(rank % 10, 'th')}"


def file_word(text: str, otherwise: str) -> str:
    """``text`` as part of a file name: small ASCII letters, digits and dashes, at most 60."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:60].strip("-") or otherwise


def day_said(moment: datetime) -> str:
    """``15 March 2027``, of a moment on the school's clock."""
    return f"{moment.day} {_MONTHS[moment.month - 1]} {moment.year}"
