"""Shapes of the coordinator's office, and of what is given out and deleted."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from service.api.shapes import ID, Line, Moment, SchoolClass, Shape
from service.privacy.keeping import LONGEST, SHORTEST

Typed = Annotated[str, Field(max_length=200)]


class OfficeClass(SchoolClass):
    """A class of the school."""

    students: int = Field(description="how many are in it, without leavers")


class OfficeClasses(Shape):
    """A page of classes."""

    items: tuple[OfficeClass, ...]
    next: str | None


class NewClass(Shape):
    """A class without students yet."""

    name: Line
    code: Line = Field(description="what its students type when they sign in")
    sourced_id: Line = Field("", description="what the school's records call it; results go back under it")


class ClassName(Shape):
    """What a class is called from now on."""

    name: Line


class StaffMember(Shape):
    """One of the staff; the name only with the scope 'read names'."""

    id: ID
    role: str
    name: str | None
    class_ids: tuple[ID, ...] = Field(description="which classes a teacher teaches")


class Staff(Shape):
    """A page of the staff."""

    items: tuple[StaffMember, ...]
    next: str | None


ClassIDs = Annotated[tuple[ID, ...], Field(max_length=500)]


class NewTeacher(Shape):
    """A teacher, who signs in once the coordinator has given a password on the page of the office."""

    name: Line
    class_ids: ClassIDs = ()


class Taught(Shape):
    """Exactly these classes are taught from now on."""

    class_ids: ClassIDs


class Done(Shape):
    """One line of the record: who did what, about whom; names only with the scope 'read names'."""

    at: Moment
    by_id: ID | None = Field(description="null: the clock, or the command line")
    by: str | None
    what: str
    about: str = Field(description="'person', 'class', 'assignment', 'contest', 'attempt' or 'school'")
    about_id: ID
    about_name: str | None
    word: str


class Record(Shape):
    """A page of the record, newest first."""

    items: tuple[Done, ...]
    next: str | None


class NewKeeping(Shape):
    """After how many months without work a class is deleted, or null; and when a school year begins."""

    months: Annotated[int, Field(ge=SHORTEST, le=LONGEST)] | None
    year_begins: Annotated[int, Field(ge=1, le=12)] = Field(description="the month")


class KeptClass(Shape):
    """A class and when it was last active."""

    id: ID
    name: str
    code: str
    students: int = Field(description="with leavers")
    active: Moment
    foretold: Moment | None = Field(description="since when its deletion is foretold")


class KeptYear(Shape):
    """The classes last active in a school year."""

    year: int
    label: str
    classes: tuple[KeptClass, ...]


class Keeping(NewKeeping):
    """The same with the classes by year, the newest first."""

    years: tuple[KeptYear, ...]


class Confirmed(Shape):
    """The name of the student, the code of the class or the label of the year, so that no other one is deleted."""

    typed: Typed


class Deleted(Shape):
    """What is deleted, with all that hung on it."""

    students: int
    classes: int
