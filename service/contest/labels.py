"""Labels for the bridges: number, alias, division, and a QR code that a station reads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from service.people.cards import code
from service.records.contest_models import Entry


@dataclass(frozen=True)
class Label:
    """One label; ``code`` is an SVG drawing of the address."""

    entry: Entry
    address: str
    code: Markup


def labels(entries: Sequence[Entry], root: str) -> list[Label]:
    """A label for each entry; its code holds the address of the bridge, which ends with its number."""
    stem = root.rstrip("/")
    found = [(one, f"{stem}/staff/contests/{one.contest_id}/bridges/{one.number}") for one in entries]
    return [Label(one, address, code(address)) for one, address in found]
