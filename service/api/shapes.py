"""What programs send and get, as shapes: answers are made from them, and the OpenAPI file too."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from rubric.messages.outcomes import Mistake

ID = Annotated[int, Field(ge=1, le=999_999_999)]
Moment = Annotated[str, Field(description="UTC, RFC 3339", examples=["2027-03-01T16:00:00Z"])]
When = Annotated[str, Field(pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$")]
Line = Annotated[str, Field(max_length=200, pattern=r"^[^\u0000-\u001f\u007f]*$")]


class Shape(BaseModel):
    """Immutable; a member that is not known is refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class SchoolClass(Shape):
    """The class that the token is for."""

    id: ID
    name: str
    code: str
    language: str
    put_away: bool
    sourced_id: str | None = Field(None, description="what the school's own records call it, as its list said")


class Student(Shape):
    """One student; name and roster number only with the scope 'read names'."""

    id: ID
    alias: str | None
    name: str | None = None
    roster_number: str | None = None


class Assignment(Shape):
    """Something set for the class."""

    id: ID
    class_id: ID
    title: str
    opens: Moment | None
    due: Moment | None
    release_by_hand: bool = Field(description="whether marks of attempts to come wait until they are released")
    contest_id: ID | None
    version: int = Field(description="the version under which work is handed in now")


class AssignmentInFull(Assignment):
    """The same with what was asked, as text (YAML)."""

    brief: str
    rubric: str


class NewAssignment(Shape):
    """What to set: a brief and a rubric as text (YAML)."""

    brief: str = Field(max_length=65_536)
    rubric: str = Field(max_length=65_536)
    title: Line = Field("", description="the brief's own title where left out")
    opens: When | None = Field(None, description="the brief's own date where left out")
    due: When | None = Field(None, description="the brief's own date where left out")
    release_by_hand: bool = Field(False, description="whether marks wait until they are released")
    contest_id: ID | None = Field(None, description="the contest it counts for")
    new_contest: Line = Field("", description="title of a contest to make for it, in place of 'contest_id'")


class NewAttempt(Shape):
    """A truss file to hand in for a student."""

    student_id: ID
    text: str = Field(max_length=65_536, description="the truss file, YAML or CSV")
    file_name: Line = "truss.yaml"


class Attempt(Shape):
    """One attempt; figures are null until it is marked."""

    id: ID
    assignment_id: ID
    student_id: ID
    number: int
    handed_in: Moment
    state: Literal["received", "marked", "failed"]
    held: bool = Field(description="whether the student still waits for the mark")
    has_mistakes: bool
    total: float | None = None
    out_of: float | None = None
    waiting_points: float | None = None
    efficiency: float | None = None
    on_board: bool = False


class AttemptInFull(Attempt):
    """The same with the mistakes of its file, each with line and column."""

    mistakes: tuple[Mistake, ...] = ()


class BoardPlace(Shape):
    """One place of the board."""

    rank: int
    alias: str
    efficiency: float


class Classes(Shape):
    """The classes that the token opens."""

    items: tuple[SchoolClass, ...]
    next: str | None = Field(None, description="the cursor of the next page, or null")


class Students(Shape):
    """A page of students."""

    items: tuple[Student, ...]
    next: str | None


class Assignments(Shape):
    """A page of assignments."""

    items: tuple[Assignment, ...]
    next: str | None


class Attempts(Shape):
    """A page of attempts."""

    items: tuple[Attempt, ...]
    next: str | None


class Board(Shape):
    """The board of an assignment, best first."""

    items: tuple[BoardPlace, ...]


class SchemaNames(Shape):
    """The JSON Schemas of the files, by name and address."""

    items: dict[str, str]


class FileProblem(Shape):
    """One thing to mend in a text."""

    file: str
    line: int
    column: int
    found: str
    expected: str
    mend: str


class Problem(Shape):
    """RFC 9457."""

    type: str
    title: str
    status: int
    detail: str
    instance: str
    problems: tuple[FileProblem, ...] = ()
    wait_s: int | None = None
    fields: tuple[str, ...] = Field((), description="what of the request is wrong, one line each")
