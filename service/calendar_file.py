"""Dates as an iCalendar file (RFC 5545), which calendars of phones and computers take in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

LONGEST = 75
"""Octets of a line; a longer one is folded (section 3.1)."""


@dataclass(frozen=True)
class Event:
    """One moment; ``uid`` stays the same for ever, so that a file taken in again changes and never doubles."""

    uid: str
    at: datetime
    """UTC without zone."""
    summary: str
    description: str = ""


def calendar(events: Iterable[Event], stamp: datetime) -> bytes:
    """The file; ``stamp`` is when it is made, UTC without zone."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Kingpost//Due dates//EN", "CALSCALE:GREGORIAN"]
    for event in events:
        lines += _event(event, stamp)
    lines.append("END:VCALENDAR")
    return b"".join(piece + b"\r\n" for line in lines for piece in _folded(line))


def _event(event: Event, stamp: datetime) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{_text(event.uid)}"
    yield f"DTSTAMP:{_utc(stamp)}"
    yield f"DTSTART:{_utc(event.at)}"
    yield f"SUMMARY:{_text(event.summary)}"
    if event.description:
        yield f"DESCRIPTION:{_text(event.description)}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def _utc(moment: datetime) -> str:
    return f"{moment:%Y%m%dT%H%M%SZ}"


def _text(text: str) -> str:
    """A value of type TEXT (section 3.3.11); control characters are left out."""
    escaped = text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")
    return "".join(c for c in escaped if c.isprintable())


def _folded(line: str) -> Iterator[bytes]:
    """A line in pieces of at most 75 octets, never cut within a character."""
    piece = b""
    for char in line:
        octets = char.encode()
        if len(piece) + len(octets) > LONGEST:
            yield piece
            piece = b" "
        piece += octets
    yield piece
