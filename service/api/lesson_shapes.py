"""Shapes of what a class's work shows, and of texts that are checked."""

from __future__ import annotations

from pydantic import Field

from service.api.shapes import FileProblem, Shape
from service.api.work_shapes import Text


class NewCheck(Shape):
    """A brief and a rubric (YAML); neither is kept."""

    brief: Text
    rubric: Text


class RulesToCheck(Shape):
    """Rules of a contest (YAML); they are not kept."""

    rules: Text


class TextsChecked(Shape):
    """What is to be mended, and what is no mistake and may still not be meant."""

    problems: tuple[FileProblem, ...]
    remarks: tuple[str, ...]


class Standing(Shape):
    """How far the works that count have come."""

    works: int
    mistaken: int
    moving: int
    weak: int = Field(description="stable, but the target load is more than they carry")
    enough: int
    outside: int = Field(description="those that do not keep the limits of the brief")


class CriterionSpread(Shape):
    """One criterion over all works: how many earned nothing, up to half, more than half, all of it."""

    name: str
    out_of: float
    bands: tuple[int, ...]
    waiting: int
    mean: float | None
    lost: float


class MembersFailing(Shape):
    """One kind of member failing in one mode."""

    part: str
    mode: str
    first: int = Field(description="in how many bridges such a member breaks first")
    over: int = Field(description="how many such members would fail below the target load")


class LessonQuestion(Shape):
    """What was found, and what to ask about it."""

    found: str
    ask: str
    part: float


class Insight(Shape):
    """What the work of a class shows; names nobody."""

    students: int
    standing: Standing
    criteria: tuple[CriterionSpread, ...]
    failures: tuple[MembersFailing, ...]
    questions: tuple[LessonQuestion, ...]


class TestedBridge(Shape):
    """A bridge that was tested: what was predicted and what came of it; a dot of the plot."""

    number: int
    alias: str
    division: str
    predicted_N: float
    measured_N: float
    member: str = Field(description="predicted to fail first; empty: not known")
    mode: str = Field(description="how that member was predicted to fail")
    broke: str = Field(description="where it broke, as somebody noted; empty: not noted")
    how: str = Field(description="one of the ways to break; empty: not noted")
    as_predicted: bool | None = Field(description="whether it broke in that mode; null: not seen, or it held")


class LoadFactor(Shape):
    """Measured over predicted load of a number of bridges: the median, and how sure it is."""

    bridges: int
    factor: float
    low: float = Field(description="the median lies between 'low' and 'high', as sure as 'confidence' says")
    high: float
    spread_low: float = Field(description="8 of 10 bridges lie between 'spread_low' and 'spread_high'")
    spread_high: float
    confidence: float


class StrengthProposal(Shape):
    """What a strength of the next brief may be multiplied by; never done by itself."""

    mode: str
    what: str
    factor: LoadFactor


class Prediction(Shape):
    """Predicted beside measured loads of a contest as it stands."""

    items: tuple[TestedBridge, ...]
    factor: LoadFactor | None = Field(description="null: fewer than six bridges")
    proposals: tuple[StrengthProposal, ...]
