"""What all kinds of criterion share: a name, points, and how a mark is said."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from rubric.evidence import Evidence
from rubric.measures import CATALOGUE, Measure
from rubric.problems import quoted
from rubric.quantities import FORCE_UNITS, LENGTH_UNITS, MASS_UNITS, number, quantity
from rubric.shapes import Shape, Words, fault
from rubric.spelling import did_you_mean
from rubric.wording import amount, points

_UNIT_GROUPS = {"force": FORCE_UNITS, "length": LENGTH_UNITS, "mass": MASS_UNITS}


class CriterionMark(BaseModel):
    """What one criterion earned, and why."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: str
    kind: str
    points: float | None
    """None while it waits for the teacher."""
    out_of: float
    seen: str
    asked: str
    why: str
    earn_more: str = ""
    """How to earn the rest; nothing where nothing is left to earn."""
    corrected: bool = False
    """Whether a teacher put these points in place of the computed ones."""


class Judged(BaseModel):
    """What the teacher gave for one criterion, or put in place of computed points."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    points: float
    comment: str = ""


Judgements = Mapping[str, Judged]
"""By the criterion's name."""


def _points(value: Any) -> float:
    given = value if isinstance(value, float | int) else number(str(value))
    if given is None or not 0 < given <= 1000 or round(given, 2) != given:
        raise fault(quoted(str(value)), "points above 0, at most 1000, to 0.01", "write a plain number.")
    return float(given)


def _measure(value: Any) -> str:
    if value in CATALOGUE:
        return str(value)
    raise fault(
        f"the unknown measure {quoted(str(value))}",
        "a measure of the catalogue",
        did_you_mean(str(value), CATALOGUE),
    )


Points = Annotated[float, BeforeValidator(_points)]
MeasureName = Annotated[str, BeforeValidator(_measure)]


class Criterion(Shape):
    """The common part of every kind."""

    name: Words = Field(description="a name for the criterion", examples=["Carries the load"])
    points: Points = Field(description="the points it can earn", examples=["20"])

    @property
    @abstractmethod
    def asked(self) -> str:
        """What a student is asked for, in words."""

    @abstractmethod
    def mark(self, evidence: Evidence, judgements: Judgements) -> CriterionMark:
        """The mark for this evidence; pure and deterministic."""


def in_units_of(measure: Measure, value: Any) -> float:
    """A number a teacher wrote for ``measure``: plain, with one of its units, or as a percentage.

    Raises a fault where it is anything else.
    """
    if isinstance(value, float | int):
        return float(value)
    text = str(value).strip()
    given: float | None
    if measure.unit == "%":
        part = number(text[:-1]) if text.endswith("%") else None
        given = part / 100 if part is not None else None
    elif measure.units:
        given = quantity(text, _UNIT_GROUPS[measure.units], measure.unit)
    else:
        given = number(text)
    if given is None:
        raise fault(
            quoted(text),
            f"a number for the measure '{measure.name}'" + (f" in {measure.unit}" if measure.unit else ""),
            f"write for example '{amount(0.5 if measure.unit == '%' else 50, measure.unit)}'.",
        )
    return given


def said(measure: Measure, value: float) -> str:
    """``the mass is 48.2 g``."""
    return f"{measure.in_a_sentence} is {amount(value, measure.unit)}"


def goal_said(measure: Measure, value: float, goal: float, points: str) -> str:
    """How to earn more: which way the measure must go, and how far."""
    way = "Raise" if goal > value else "Bring down"
    return f"{way} {measure.in_a_sentence} to {amount(goal, measure.unit)} to earn {points}."


def not_measured(criterion: Criterion, measure: Measure, evidence: Evidence) -> CriterionMark:
    """The mark where the truss does not have the measure: a mechanism, or a file with mistakes."""
    if not evidence.read:
        return file_with_mistakes(criterion)
    return _nothing_yet(
        criterion,
        f"no {measure.name}",
        f"A truss that can move has no {measure.name}.",
        "Make the truss stable first.",
    )


def file_with_mistakes(criterion: Criterion) -> CriterionMark:
    """The mark where the file could not be read to its end."""
    return _nothing_yet(
        criterion,
        "a file with mistakes",
        "The file could not be read to its end.",
        "Mend the mistakes in the file first.",
    )


def _nothing_yet(criterion: Criterion, seen: str, why: str, first: str) -> CriterionMark:
    return CriterionMark(
        name=criterion.name,
        kind=str(getattr(criterion, "kind", "")),
        points=0.0,
        out_of=criterion.points,
        seen=seen,
        asked=criterion.asked,
        why=why,
        earn_more=f"{first} Then it can earn up to {points_said(criterion.points)} here.",
    )


def points_said(value: float) -> str:
    """``1 point``, ``2.5 points``."""
    return f"{points(value)} point{'' if value == 1 else 's'}"
