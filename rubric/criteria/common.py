"""What all kinds of criterion share: a name, points, and how a mark is said."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

from rubric.criteria.say import Say, fill
from rubric.evidence import Evidence
from rubric.language import _, counted, later
from rubric.problems import quoted
from rubric.quantities import number
from rubric.shapes import Shape, Words, YesNo, fault
from rubric.wording import plain_points
from rubric.wording import points as points_figure
from rubric.written import plain_number, reads

CountsAs = Literal["points", "bonus", "deduction"]


class CriterionMark(BaseModel):
    """What one criterion earned, and why."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: str
    kind: str
    points: float | None
    """None while it waits for the teacher; 0 or less for a deduction."""
    out_of: float
    """0 for a deduction; a bonus is not part of what the whole is out of."""
    seen: str
    asked: str
    why: str
    earn_more: str = ""
    """How to earn the rest; nothing where nothing is left to earn."""
    corrected: bool = False
    """Whether a teacher put these points in place of the computed ones."""
    counts_as: CountsAs = "points"

    @property
    def of(self) -> str:
        """What stands behind the points: ``of 10``, ``of 5 (bonus)``, ``(deduction)``."""
        if self.counts_as == "deduction":
            return _("(deduction)")
        if self.counts_as == "bonus":
            return _("of {points} (bonus)", points=points_figure(self.out_of))
        return _("of {points}", points=points_figure(self.out_of))


class Judged(BaseModel):
    """What the teacher gave for one criterion, or put in place of computed points."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    points: float
    comment: str = ""


Judgements = Mapping[str, Judged]
"""By the criterion's name."""


@dataclass(frozen=True)
class Found:
    """What a kind of criterion finds: points from nought to the criterion's, and our words for it."""

    points: float | None
    seen: str
    why: str
    earn_more: str = ""
    judged: bool = True
    """False where there was nothing to judge: then our own words stand, and nothing is deducted."""


def _points(value: Any) -> float:
    given = value if isinstance(value, float | int) else number(str(value))
    if given is None or not 0 < given <= 1000 or round(given, 2) != given:
        raise fault(quoted(str(value)), _("points above 0, at most 1000, to 0.01"), _("write a plain number."))
    return float(given)


def _weight(value: Any) -> None:
    if value is None:
        return
    weight = number(str(value))
    if weight is None or not 0 < weight <= 1000:
        raise fault(quoted(str(value)), _("a weight above 0, at most 1000"), _("write a plain number."))
    raise fault(
        _("a weight of {word}", word=quoted(str(value))),
        _("weights in place of 'points', under 'out of'"),
        _("add 'out of: 100' to the rubric, and give this criterion 'weight' or 'points' but not both."),
    )


Points = Annotated[float, reads(_points, plain_number(0.01, 1000))]
NoWeight = Annotated[None, reads(_weight, plain_number(0.01, 1000))]
"""A weight is turned into points before a criterion is read; one that is still there has nothing to share."""


class Criterion(Shape):
    """The common part of every kind."""

    name: Words = Field(description=later("a name for the criterion"), examples=["Carries the load"])
    points: Points = Field(description=later("the points it can earn"), examples=["20"])
    weight: Annotated[None, reads(_weight, plain_number(0.01, 1000))] = Field(
        None, description=later("its weight"), examples=["2"]
    )
    bonus: YesNo = Field(False, description=later("whether its points come on top"), examples=["yes"])
    deduct: YesNo = Field(False, description=later("whether what it does not earn is taken away"), examples=["yes"])
    say: Say = Field(Say(), description=later("your own words"), examples=["{earned: Well done.}"])

    @model_validator(mode="after")
    def _counts_one_way(self) -> Criterion:
        if self.bonus and self.deduct:
            raise fault(_("both 'bonus' and 'deduct'"), _("one of the two"), _("take one of the two out."), "deduct")
        return self

    @property
    @abstractmethod
    def asked(self) -> str:
        """What a student is asked for, in words."""

    @abstractmethod
    def find(self, evidence: Evidence, judgements: Judgements) -> Found:
        """What the evidence is worth; pure and deterministic."""

    @property
    def counts_as(self) -> CountsAs:
        if self.bonus:
            return "bonus"
        return "deduction" if self.deduct else "points"

    @property
    def worth(self) -> str:
        """Its points before anything is handed in: ``20``, ``5 (bonus)``, ``10 to lose``."""
        said = points_figure(self.points)
        if self.counts_as == "points":
            return said
        return _("{points} (bonus)", points=said) if self.bonus else _("{points} to lose", points=said)

    @property
    def bounds(self) -> tuple[float, float]:
        """The least and the most that it can add to the whole."""
        return (-self.points, 0.0) if self.deduct else (0.0, self.points)

    def mark(self, evidence: Evidence, judgements: Judgements) -> CriterionMark:
        """The mark for this evidence, in the teacher's words where there are any."""
        found = self.find(evidence, judgements)
        adds = self._adds(found)
        mark = CriterionMark(
            name=self.name,
            kind=str(getattr(self, "kind", "")),
            points=adds,
            out_of=self.bounds[1],
            seen=found.seen,
            asked=self.asked,
            why=found.why,
            earn_more=found.earn_more,
            counts_as=self.counts_as,
        )
        if found.points is None or not found.judged:
            return mark
        words = self.say.words(found.points, self.points)
        return mark if words is None else mark.model_copy(update=self._in_own_words(words, found, adds or 0.0))

    def to_earn(self, points: float, all_of_it: bool = False) -> str:
        """``to earn 5 points``, ``to earn all 5 bonus points``, ``to lose no points``."""
        if self.deduct:
            return _("to lose no points here")
        said = bonus_said(points) if self.bonus else points_said(points)
        return _("to earn all {points}", points=said) if all_of_it else _("to earn {points}", points=said)

    def _adds(self, found: Found) -> float | None:
        if found.points is None:
            return None
        if self.deduct:
            return round(found.points - self.points, 2) if found.judged else 0.0
        return round(found.points, 2)

    def _in_own_words(self, words: str, found: Found, adds: float) -> dict[str, str]:
        values = {
            "name": self.name,
            "seen": found.seen,
            "asked": self.asked,
            "points": points_figure(adds),
            "out of": points_figure(self.bounds[1]),
            "missing": points_figure(self.points - (found.points or 0.0)),
            "why": found.why,
            "how": found.earn_more,
        }
        return {"why": fill(words, values).strip(), "earn_more": ""}


def file_with_mistakes(criterion: Criterion) -> Found:
    """What is found where the file could not be read to its end."""
    return nothing_yet(
        criterion,
        _("a file with mistakes"),
        _("The file could not be read to its end."),
        _("Mend the mistakes in the file first."),
    )


def nothing_yet(criterion: Criterion, seen: str, why: str, first: str) -> Found:
    """Nothing to judge yet; ``first`` says what has to be done before there is."""
    more = _("Then it can earn up to {points} here.", points=points_said(criterion.points))
    return Found(0.0, seen, why, first if criterion.deduct else f"{first} {more}", judged=False)


def points_said(value: float) -> str:
    """``1 point``, ``2.5 points``."""
    return counted("{points} point", "{points} points", 1 if value == 1 else 2, points=points_figure(value))


def bonus_said(value: float) -> str:
    """``1 bonus point``, ``2.5 bonus points``."""
    count = 1 if value == 1 else 2
    return counted("{points} bonus point", "{points} bonus points", count, points=points_figure(value))


def points_written(value: float) -> str:
    """The same as a rubric writes it, in every language."""
    return f"{plain_points(value)} point{'' if value == 1 else 's'}"
