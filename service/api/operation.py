"""What one operation of programs is: how it is asked for, by what scope, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import BaseModel

PDF = "application/pdf"
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


PAGED = ("cursor", "limit")
