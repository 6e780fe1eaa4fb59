"""Shapes of work and marks: judging, release, dates, versions and trials, class lists, files looked at."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from rubric.messages.outcomes import Sketched
from service.api.shapes import ID, Line, Moment, Shape, When

Words = Annotated[str, Field(max_length=1000)]
Text = Annotated[str, Field(max_length=65_536)]
Number = Annotated[float, Field(ge=-1_000_000, le=1_000_000)]


class Judged(Shape):
    """Points for one criterion that a teacher judges."""

    criterion: Words
    points: Number
    comment: Words = ""


class Judgement(Shape):
    """All that is judged of an attempt; a criterion left out waits for the teacher again."""

    judged: Annotated[tuple[Judged, ...], Field(max_length=100)]


class Correction(Shape):
    """Points in place of computed ones, or null to take them back; with the reason that the student reads."""

    criterion: Words
    points: Number | None
    why: Words


class Remark(Shape):
    """A comment on one criterion, or on the whole, where that is empty."""

    criterion: Words = ""
    comment: Words


class Corrections(Shape):
    """What is put in place; what is left out stays as it is."""

    corrections: Annotated[tuple[Correction, ...], Field(max_length=100)] = ()
    comments: Annotated[tuple[Remark, ...], Field(max_length=100)] = ()


class Release(Shape):
    """Which marks are given to the students or held back from them."""

    do: Literal["release", "hold"]
    attempt_ids: Annotated[tuple[ID, ...], Field(max_length=5000)] | None = Field(
        None, description="all marked attempts of the assignment where left out"
    )
    why: Words = ""
    places_anew: bool = False


class Released(Shape):
    """How many marks were given or held back by it."""

    changed: int


class MarkChange(Shape):
    """One change of a mark."""

    at: Moment
    by_id: ID
    what: str
    criterion: str
    before: str
    after: str
    why: str
    total_before: float | None
    total_after: float | None


class MarkChanges(Shape):
    """All changes of an attempt, newest first."""

    items: tuple[MarkChange, ...]


class ComparedNumber(Shape):
    """One number of both attempts, with its unit."""

    name: str
    before: str
    after: str
    change: str


class Compared(Shape):
    """Two attempts of one student: what was changed and what it did."""

    before_id: ID
    after_id: ID
    changed: tuple[str, ...]
    did: tuple[str, ...]
    numbers: tuple[ComparedNumber, ...]


class TableRow(Shape):
    """One student at an assignment; the name only with the scope 'read names'."""

    student_id: ID
    alias: str | None
    name: str | None
    state: str
    attempts: int
    newest_id: ID | None
    counts_id: ID | None = Field(description="the attempt that counts by the rubric")
    total: float | None
    out_of: float | None
    efficiency: float | None
    late: bool


class ClassTable(Shape):
    """The class at an assignment, by name."""

    items: tuple[TableRow, ...]


class Dates(Shape):
    """When work opens and is due; null: at no time."""

    opens: When | None
    due: When | None


class NewExtension(Shape):
    """A due date of one student's own; null takes it back."""

    student_id: ID
    due: When | None
    why: Words = ""


class Extension(Shape):
    """Such a date."""

    student_id: ID
    due: Moment
    why: str


class Extensions(Shape):
    """All of an assignment."""

    items: tuple[Extension, ...]


class BundleFile(Shape):
    """One file of many."""

    student_id: ID
    text: Text
    file_name: Line = "truss.yaml"


class NewBundle(Shape):
    """Files of many students."""

    files: Annotated[tuple[BundleFile, ...], Field(min_length=1, max_length=100)]


class Taken(Shape):
    """What became of one of them."""

    student_id: ID
    attempt_id: ID | None
    why_not: str


class Bundle(Shape):
    """What became of each, in the order in which they were sent."""

    items: tuple[Taken, ...]


class NewLook(Shape):
    """A text to look at before it is handed in."""

    student_id: ID
    text: Text


class Look(Shape):
    """What was seen of it."""

    stage: Literal["none", "waiting", "late", "done"]
    seen: Sketched | None


class VersionLine(Shape):
    """A version of brief and rubric."""

    id: ID
    number: int
    made_at: Moment
    due: Moment | None
    why: str
    attempts: int = Field(description="how many are marked under it")


class VersionInFull(VersionLine):
    """The same with its texts (YAML)."""

    brief: str
    rubric: str


class Versions(Shape):
    """All of an assignment, newest first."""

    items: tuple[VersionLine, ...]
    last_trial_id: ID | None = Field(description="the marking again that 'undo' would take back")


class NewTrial(Shape):
    """What to try out: a version that is there, or new texts."""

    version_id: ID | None = None
    brief: Text = ""
    rubric: Text = ""


class TriedAttempt(Shape):
    """The marks of one attempt before and after."""

    attempt_id: ID
    before: float | None
    after: float | None
    why: str


class Trial(Shape):
    """Who would change; ``waiting`` files are being solved again."""

    id: ID
    assignment_id: ID
    version_id: ID | None
    waiting: int
    gain: int
    lose: int
    same: int
    items: tuple[TriedAttempt, ...]


class Saving(Shape):
    """Save a trial as the next version, mark the class again under it, or both."""

    do: Literal["save", "again", "both"]
    why: Words


class Reason(Shape):
    """Why."""

    why: Words = ""


class Undo(Reason):
    """Why, and perhaps which marking again is to be the last, so that what is sent twice takes one back."""

    trial_id: ID | None = None


class ReleaseSetting(Shape):
    """Whether marks of attempts to come wait until somebody releases them."""

    by_hand: bool


class MoreAttempts(Shape):
    """Attempts of one student beyond those of the rubric; 0 takes them back."""

    student_id: ID
    more: Annotated[int, Field(ge=0, le=1000)]
    why: Words = ""


class ExtraAttempts(Shape):
    """All of an assignment."""

    items: tuple[MoreAttempts, ...]


class Pupil(Shape):
    """One of a class list."""

    name: Annotated[str, Field(min_length=1, max_length=120)]
    number: Annotated[str, Field(max_length=40)] = ""


class NewList(Shape):
    """A class list."""

    pupils: Annotated[tuple[Pupil, ...], Field(min_length=1, max_length=400)]
    leavers: bool = Field(False, description="whether those who are not on it are put with the leavers")
    sourced_id: Line = Field("", description="what the school's records call the class; results go back under it")
    only_look: bool = Field(True, description="say what would change, and write nothing")


class NewSignIn(Shape):
    """What somebody signs in with; told this once."""

    name: str
    class_code: str
    passphrase: str


class ListRead(Shape):
    """What the list changes, or would change."""

    new: int
    same: int
    renamed: int
    back: int
    leavers: int
    problems: tuple[str, ...]
    sign_ins: tuple[NewSignIn, ...]


class NewReport(Shape):
    """A class report to be set on this paper."""

    paper: Literal["A4", "Letter"] = "A4"


class Report(Shape):
    """How far the report of a class has come."""

    stage: Literal["none", "waiting", "ready", "failed"]
    paper: str
    made_at: Moment | None
