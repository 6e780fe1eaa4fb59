"""Shapes of what is printed, and of what a contest gives out."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from rubric.messages.orders import AwardPaper, Awards, Paper
from service.api.shapes import ID, Line, Shape


class NewPlan(Shape):
    """The paper of a building plan."""

    paper: Paper


class Plan(Shape):
    """How far the building plan of an attempt is."""

    attempt_id: ID
    paper: str
    stage: Literal["none", "waiting", "ready", "failed"]


class NewAward(Shape):
    """What to set, and on what paper."""

    what: Awards
    paper: AwardPaper = "A4"


class Award(Shape):
    """Certificates or a booklet of a contest."""

    what: str
    list_number: int = Field(description="of the published list that it shows")
    paper: AwardPaper
    stage: Literal["waiting", "ready", "failed"]


class ContestInFull(Shape):
    """Rules, entries, stations, every reading, rulings, protests and lists; aliases alone."""

    everything: dict[str, Any]


class BridgeLabel(Shape):
    """What to print and tie to a bridge."""

    number: int
    alias: str | None
    division: str
    address: str = Field(description="what the code says, for programs that draw their own")
    code: str = Field(description="SVG: the code that a station reads")


class BridgeLabels(Shape):
    """All of a contest, by number."""

    items: tuple[BridgeLabel, ...]


class NewSchoolRecord(Shape):
    """A result of an earlier year, from the school's own papers."""

    year: Annotated[int, Field(ge=1900, le=2200)]
    title: Line
    alias: Line
    efficiency: Annotated[float, Field(gt=0, lt=1_000_000)]


class SchoolRecord(Shape):
    """A winning result of some year."""

    year: int
    title: str
    division: str
    alias: str
    efficiency: float
    load_N: float | None
    mass_g: float | None


class SchoolRecords(Shape):
    """The best first."""

    items: tuple[SchoolRecord, ...]
