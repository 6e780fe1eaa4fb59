"""Shapes of contests.  Bridges are known by number and alias; a pupil's number is told of the token's class alone."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from rubric.contest.breaking import Way
from service.api.shapes import ID, Line, Moment, Shape, When
from service.api.work_shapes import Text, Words


class ContestLine(Shape):
    """A contest that the class takes part in."""

    id: ID
    title: str


class Contests(Shape):
    """All of them."""

    items: tuple[ContestLine, ...]


class Contest(ContestLine):
    """The same with its rules as they stand (YAML), and how far it is."""

    rules: str | None
    rules_version: int
    locked: bool = Field(description="whether entries are frozen")
    lists: int = Field(description="how often the official list was published")
    safety: tuple[str, ...] = Field(description="to confirm, line by line, when a load test opens")


class NewRules(Shape):
    """Rules to save, and why they change where there are some."""

    rules: Text
    why: Words = ""


class Entry(Shape):
    """A bridge that takes part."""

    id: ID
    number: int
    alias: str | None
    division: str
    running: int | None
    frozen: bool
    withdrawn: bool
    student_id: ID | None
    attempt_id: ID | None


class Entries(Shape):
    """By number."""

    items: tuple[Entry, ...]


class NewEntry(Shape):
    """What to enter, and in place of which entry."""

    division: Words = ""
    age: Annotated[int, Field(ge=1, le=99)] | None = None
    in_place_of: ID | None = None
    why: Words = Field("", description="needed once the entries are locked")


class Counted(Shape):
    """How many bridges that concerned."""

    entries: int


class NewStation(Shape):
    """A station to open."""

    kind: Literal["weigh-in", "load test"]
    name: Line
    confirmed: Annotated[tuple[Words, ...], Field(max_length=20)] = ()


class Station(Shape):
    """A scale or a rig."""

    id: ID
    kind: str
    name: str
    open: bool
    testing: int | None


class Stations(Shape):
    """All of a contest."""

    items: tuple[Station, ...]


class Call(Shape):
    """The number of a bridge."""

    number: Annotated[int, Field(ge=1, le=999_999)]


class NewReading(Shape):
    """What was read off the scale (g) or the display of the rig."""

    number: Annotated[int, Field(ge=1, le=999_999)]
    value: Annotated[float, Field(ge=0, le=1_000_000)]
    unit: Literal["g", "N", "kg", ""] = ""
    checked: Annotated[tuple[Words, ...], Field(max_length=40)] = ()
    broke: Line = Field("", description="the member or joint that broke first")
    how: Way | Literal[""] = Field("", description="how it broke, as it was seen; nothing where nobody noted it")
    where: Line = ""
    remark: Line = ""
    again: Words = ""
    sure: bool = Field(False, description="keep it although it is out of range")
    taken_at: When | None = None


class Reading(Shape):
    """A row that nobody changes."""

    id: ID
    station_id: ID
    number: int
    kind: str
    value: float | None
    unit: str
    broke: str
    how: str = Field(description="nothing where it was not noted")
    flagged: str
    undoes_id: ID | None
    why: str
    taken_at: Moment


class Readings(Shape):
    """A page of readings, in the order in which they came."""

    items: tuple[Reading, ...]
    next: str | None


class ListNow(Shape):
    """The official list as it stands; each line as it would be published."""

    items: tuple[dict[str, Any], ...]
    unconfirmed: tuple[int, ...] = Field(description="numbers that nobody else has looked at")


class PublishedList(Shape):
    """A list as it was published."""

    number: int
    at: Moment
    notice: str
    items: tuple[dict[str, Any], ...]


class PublishedLists(Shape):
    """All of a contest, oldest first."""

    items: tuple[PublishedList, ...]


class Notice(Shape):
    """What is corrected and why, where a list was published before."""

    notice: Words = ""


class Ruling(Shape):
    """A disqualification, or that it is lifted."""

    what: Literal["disqualified", "reinstated"]
    why: Words


class NewProtest(Shape):
    """What a protest is about, or its answer."""

    text: Words


class Protest(Shape):
    """A protest about a bridge."""

    id: ID
    number: int
    text: str
    answer: str


class Protests(Shape):
    """All of a contest."""

    items: tuple[Protest, ...]
