"""The order of a class report: how a class stands at an assignment, as plain numbers and words.

Names of pupils cross to the worker here because the teacher's table needs them.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from rubric.messages.orders import Message, Order

ReportPaper = Literal["A4", "Letter"]

Stage = Literal["not started", "waiting", "failed", "mistakes", "mechanism", "stands", "solved"]
"""How far a pupil is: ``failed`` is a file that could not be marked, ``solved`` a problem set, which has no bridge."""


class ReportHead(Message):
    """What the report is about, and for whom it was made."""

    school: str
    class_name: str
    title: str
    task: str
    """The task of the brief in a line."""
    made: str
    """When it was made, on the school's clock, already written out for people."""
    made_for: str
    paper: ReportPaper = "A4"


class PupilLine(Message):
    """One pupil: what counts for the mark, and the best there is.  Forces in N, mass in g; None: there is none."""

    name: str
    attempts: int
    stage: Stage
    points: float | None = None
    out_of: float | None = None
    waiting: float = 0.0
    """Points that wait for a teacher."""
    held: bool = False
    """Whether the pupil does not see this mark yet."""
    late: bool = False
    efficiency: float | None = None
    best_efficiency: float | None = None
    load_N: float | None = None
    mass_g: float | None = None
    first_member: str = ""
    first_mode: str = ""
    """What fails first and how, in words."""


class CriterionLine(Message):
    """What a class earned by one criterion."""

    name: str
    out_of: float
    mean: float | None
    """Points on average of those that are marked by it; None where all wait."""
    marked: int
    waiting: int


class FailingLine(Message):
    """A kind of member that breaks first in so many bridges, in words."""

    part: str
    mode: str
    bridges: int


class MistakeLine(Message):
    """What files should have held and did not, and how many pupils handed in such a file."""

    expected: str
    pupils: int


class ReportOrder(Order):
    """Set the report of a class as a PDF."""

    head: ReportHead
    out_of: float
    """Points that there are to earn by the newest rubric."""
    bridges: bool
    """Whether bridges are designed; a problem set asks for working alone."""
    pupils: tuple[PupilLine, ...] = Field(max_length=5000)
    """In the order of the class list."""
    criteria: tuple[CriterionLine, ...] = ()
    questions: tuple[tuple[str, str], ...] = ()
    """What was found, and what to ask about it: the most important first."""
    failing: tuple[FailingLine, ...] = ()
    mistakes: tuple[MistakeLine, ...] = ()
