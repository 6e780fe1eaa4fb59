"""What one operation of programs is: how it is asked for, by what scope, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import BaseModel

PDF, ZIP, CSV = "application/pdf", "application/zip", "text/csv"
TEXT, CALENDAR = "text/plain", "text/calendar"
"""What is answered where it is no JSON."""

MOST, USUAL = 200, 50
"""Items of a page."""


@dataclass(frozen=True)
class Operation:
    """One thing to ask for."""

    method: str
    path: str
    endpoint: str
    summary: str
    answer: type[BaseModel] | str
    scope: str = ""
    """The scope it needs; any token will do where there is none."""
    status: int = 200
    body: type[BaseModel] | None = None
    query: tuple[str, ...] = ()
    refusals: tuple[int, ...] = ()
    keyed: bool = False
    coordinator: bool = False
    """Whether the token must be that of a coordinator."""
    named: bool = False
    """Whether it tells names beyond those that were sent, so that it needs the scope for names too."""


PAGED = ("cursor", "limit")
