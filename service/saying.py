"""How pages say times, places and counts."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from rubric.language import ENGLISH, _, counted, later, spoken


def here(moment: datetime, zone: str) -> datetime:
    """A moment of the tables (UTC without zone) on the school's clock."""
    return moment.replace(tzinfo=UTC).astimezone(ZoneInfo(zone))


def to_utc(moment: datetime, zone: str) -> datetime:
    """A moment on the school's clock as the tables keep it (UTC without zone)."""
    return moment.replace(tzinfo=ZoneInfo(zone)).astimezone(UTC).replace(tzinfo=None)


_DAYS = (later("Mon"), later("Tue"), later("Wed"), later("Thu"), later("Fri"), later("Sat"), later("Sun"))
_LONG_DAYS = (
    later("Monday"),
    later("Tuesday"),
    later("Wednesday"),
    later("Thursday"),
    later("Friday"),
    later("Saturday"),
    later("Sunday"),
)
MONTHS = (
    later("January"),
    later("February"),
    later("March"),
    later("April"),
    later("May"),
    later("June"),
    later("July"),
    later("August"),
    later("September"),
    later("October"),
    later("November"),
    later("December"),
)


def moment_said(moment: datetime, zone: str) -> str:
    """``Mon 15 March 2027, 16:00``, on the school's clock."""
    local = here(moment, zone)
    return _("{day} {date}, {clock}", day=_(_DAYS[local.weekday()]), date=day_said(local), clock=f"{local:%H:%M}")


def long_moment_said(local: datetime) -> str:
    """``Monday 15 March 2027, 16:00``, of a moment on the school's clock."""
    weekday = _(_LONG_DAYS[local.weekday()])
    return _("{weekday} {date}, {clock}", weekday=weekday, date=day_said(local), clock=f"{local:%H:%M}")


def wait_said(seconds: int) -> str:
    """``8 seconds``, ``2 minutes``; minutes are rounded up."""
    if seconds < 90:
        return counted("{count} second", "{count} seconds", seconds)
    return counted("{count} minute", "{count} minutes", -(-seconds // 60))


def ahead_said(before: int | None) -> str:
    """Where a file stands in the queue; nothing where it does not wait."""
    if before is None:
        return ""
    if before == 0:
        return _("Yours is next.")
    return counted("One file is before yours.", "{count} files are before yours.", before)


def ordinal(rank: int) -> str:
    """``1st``, ``2nd``, ``3rd``, ``11th``."""
    if spoken() != ENGLISH:
        return _("{rank}th", rank=rank)
    teen = 10 <= rank % 100 <= 20
    return f"{rank}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(rank % 10, 'th')}"


def file_word(text: str, otherwise: str) -> str:
    """``text`` as part of a file name: small ASCII letters, digits and dashes, at most 60."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:60].strip("-") or otherwise


def notice_said(text: str, values: Mapping[str, object]) -> str:
    """A notice for teachers in the language of the moment; ``since`` and ``day`` are days, as ``2027-03-15``."""
    if not values:
        return text
    days = {name: day_said(date.fromisoformat(str(values[name]))) for name in ("since", "day") if name in values}
    return _(text, **{**values, **days})


def day_said(moment: date) -> str:
    """``15 March 2027``, of a moment on the school's clock."""
    return _("{day} {month} {year}", day=moment.day, month=_(MONTHS[moment.month - 1]), year=moment.year)
