"""Orders: what the service asks of a worker.  Each is plain JSON and holds all a worker needs.

``job`` is the row that waits, ``attempt`` the token of this sending: the recorder takes an
answer only while the row still waits for that very token.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, get_args

from pydantic import BaseModel, ConfigDict, Field

from rubric.brief import Brief
from rubric.language import ENGLISH, Language
from rubric.messages.likeness import Work
from rubric.messages.outcomes import Analysis, Figure, Marked
from rubric.rubrics import Rubric


class Message(BaseModel):
    """The common shape: immutable, and a key that is not known is refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Order(Message):
    """What every order says."""

    job: int
    attempt: str = Field(max_length=64)
    sending: int = Field(1, ge=1)
    """Which sending of this order it is: a worker that begins says which message has come through."""
    language: Language = ENGLISH
    """What the worker writes is for people who read this language."""


class MarkOrder(Order):
    """Read, solve and mark one file."""

    file_name: str = Field(max_length=200)
    file_base64: str = Field(max_length=100_000)
    brief: Brief
    rubric: Rubric
    par_wood_g: float | None = None
    """Wood of the lightest bridge for the brief, as drawn with it; None: the worker finds it out itself."""


class DrawOrder(Order):
    """Draw the envelope of a brief: what is allowed, before anybody has handed in."""

    brief: Brief


Paper = Literal["A4", "Letter", "A3"]
PAPERS: tuple[str, ...] = get_args(Paper)
"""Paper that a building plan can be printed on."""


class SketchOrder(Order):
    """Look at a file that is still being written: what is understood of it, and what is to be mended."""

    file_base64: str = Field(max_length=100_000)
    brief: Brief


class CompareOrder(Order):
    """Find works of one group that are alike to others: in their class, in other classes, in earlier years."""

    about: int
    """The group that is asked about."""
    works: tuple[Work, ...]
    """Works of that group and of all others, oldest first."""


class SheetHead(Message):
    """Who a sheet is for; the only place where a name reaches a worker."""

    student: str
    school: str
    class_name: str
    teacher: str
    attempt_number: int
    handed_in: str
    """The school's own date and time, already written out for people."""
    file_name: str
    place: str = ""
    """The student's own place on the class leaderboard in words, or nothing."""
    comment: str = ""
    corrected: Mapping[str, str] = Field({}, max_length=200)
    """By criterion: the day on which the teacher put other points in place of the computed ones, written out."""
    paper: Paper = "A4"
    """A feedback sheet has A4 where its paper would be A3."""


class PrintOrder(Order):
    """Set one feedback sheet as a PDF from an outcome that was already recorded."""

    head: SheetHead
    brief: Brief
    outcome: Marked


Awards = Literal["certificates", "booklet"]
AWARDS: tuple[str, ...] = get_args(Awards)
"""What is printed of a list that was published."""


AwardPaper = Literal["A4", "Letter"]
AWARD_PAPERS: tuple[str, ...] = get_args(AwardPaper)
"""Paper that certificates and booklets can be set for."""


class AwardLine(Message):
    """One bridge of a published list.  ``name`` is the pupil's, on a certificate alone; a booklet has aliases."""

    name: str = ""
    alias: str
    division: str
    place: int | None
    mass_g: float | None
    load_N: float | None
    efficiency: float | None
    predicted_N: float | None
    remark: str = ""


class AwardOrder(Order):
    """Set the certificates or the booklet of a contest as a PDF."""

    what: Awards
    paper: AwardPaper = "A4"
    contest: str
    school: str
    day: str
    """The day, already written out for people."""
    notices: tuple[str, ...] = ()
    """What was corrected since the list was first published."""
    rules: tuple[str, ...] = ()
    lines: tuple[AwardLine, ...] = Field(max_length=2000)
    records: tuple[str, ...] = ()
    drawing: Figure | None = None
    """Predicted and measured loads."""


class PlanOrder(Order):
    """Set the building plan of a stable truss as a PDF, on the paper of its head; it holds no marks."""

    head: SheetHead
    brief: Brief
    title: str
    analysis: Analysis
