"""Dates as a teacher types them: on the school's clock, where an hour may be missing or come twice."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from rubric.language import _
from service.saying import here, moment_said

_TYPED = re.compile(r"\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:00)?")


class DateRefused(Exception):
    """A date that cannot be used; the message says why and how to mend it."""


def moment(typed: str, named: str, zone: str) -> datetime | None:
    """What was typed into a field, as the tables keep it (UTC without zone); None where it was left empty.

    Parameters
    ----------
    named
        How a message calls the field: 'The due date', in the language of the moment.

    Raises
    ------
    DateRefused
        No date, or an hour that is missing or comes twice on the school's clock.
    """
    text = typed.strip()
    if not text:
        return None
    local = _local(text, named)
    first, second = (_utc(local.replace(fold=fold), zone) for fold in (0, 1))
    if here(first, zone).replace(tzinfo=None) != local:
        after = moment_said(_utc(local.replace(fold=0), zone), zone)
        raise DateRefused(
            _(
                "{named}, {when}, does not exist: clocks go forward over it. Take {after}, or another time.",
                named=named,
                when=f"{local:%Y-%m-%d %H:%M}",
                after=after,
            )
        )
    if first != second:
        raise DateRefused(
            _(
                "{named}, {when}, comes twice: clocks go back in that night. Take a time an hour earlier or later.",
                named=named,
                when=f"{local:%Y-%m-%d %H:%M}",
            )
        )
    return first


def typed(when: datetime | None, zone: str) -> str:
    """A moment of the tables as a date field shows it."""
    return "" if when is None else f"{here(when, zone):%Y-%m-%dT%H:%M}"


def in_order(opens: datetime | None, due: datetime | None) -> None:
    """Refuse work that is due before it opens.

    Raises
    ------
    DateRefused
        It is.
    """
    if opens and due and due <= opens:
        raise DateRefused(_("It would be due before it opens. Swap the two dates, or leave one of them empty."))


def _local(text: str, named: str) -> datetime:
    try:
        found = datetime.fromisoformat(text) if _TYPED.fullmatch(text) else None
    except ValueError:
        found = None
    if found is None or not 2000 <= found.year <= 2100:
        raise DateRefused(
            _("{named} cannot be read. Write it as year, month, day and time, such as 2027-03-15T16:00.", named=named)
        )
    return found


def _utc(local: datetime, zone: str) -> datetime:
    return local.replace(tzinfo=ZoneInfo(zone)).astimezone(UTC).replace(tzinfo=None)
