"""What the kinds share that look at a measure: numbers in its units, and how they are said."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, model_validator

from rubric.criteria.common import Criterion, Found, file_with_mistakes, nothing_yet
from rubric.evidence import Evidence
from rubric.language import _, later
from rubric.measures import CATALOGUE, Measure
from rubric.problems import quoted
from rubric.quantities import FORCE_UNITS, LENGTH_UNITS, MASS_UNITS, number, quantity
from rubric.shapes import Shape, fault
from rubric.spelling import did_you_mean
from rubric.wording import amount
from rubric.written import reads

SLACK = 1e-9
"""Relative: a value that differs from a bound by rounding noise alone has reached it."""

_UNIT_GROUPS = {"force": FORCE_UNITS, "length": LENGTH_UNITS, "mass": MASS_UNITS}


def _measure(value: Any) -> str:
    if isinstance(value, str) and value in CATALOGUE:
        return value
    raise fault(
        _("the unknown measure {word}", word=quoted(str(value))),
        _("a measure of the catalogue"),
        did_you_mean(str(value), CATALOGUE),
    )


MeasureName = Annotated[str, reads(_measure, {"enum": sorted(CATALOGUE)})]


class Bound(Shape):
    """A measure and one number that it must reach."""

    measure: MeasureName = Field(description=later("a measure of the catalogue"), examples=["failure load"])
    at_least: float | None = Field(None, description=later("the lowest value that counts"), examples=["1"])
    at_most: float | None = Field(None, description=later("the highest value that counts"), examples=["60 g"])

    @model_validator(mode="before")
    @classmethod
    def _numbers_in_units(cls, data: Any) -> Any:
        if not isinstance(data, dict):
            return data
        measure = CATALOGUE.get(str(data.get("measure")))
        if measure is None:  # told by the field itself; without a measure its numbers mean nothing
            return {**data, "at least": None, "at most": None}
        keys = [key for key in ("at least", "at most") if data.get(key) is not None]
        if len(keys) != 1:
            raise fault(
                _("both 'at least' and 'at most'") if keys else _("neither 'at least' nor 'at most'"),
                _("one of the two"),
                _("write for example 'at least: 1'."),
                *keys[1:],
            )
        return {**data, keys[0]: in_units_of(measure, data[keys[0]], keys[0])}

    @property
    def asked(self) -> str:
        number = amount(self.number, CATALOGUE[self.measure].unit)
        return _("at most {number}", number=number) if self._upper else _("at least {number}", number=number)

    @property
    def number(self) -> float:
        """The number to reach, in the measure's unit."""
        bound = self.at_least if self.at_least is not None else self.at_most
        assert bound is not None
        return bound

    @property
    def _upper(self) -> bool:
        return self.at_least is None

    def reached(self, value: float) -> bool:
        """Whether ``value`` is on the right side; the number itself is."""
        slack = SLACK * max(abs(self.number), abs(value))
        return value <= self.number + slack if self._upper else value >= self.number - slack

    def gap(self, value: float) -> str:
        """``That is 0.2 too low.``"""
        off = amount(abs(self.number - value), CATALOGUE[self.measure].unit)
        return _("That is {off} too high.", off=off) if self._upper else _("That is {off} too low.", off=off)


def in_units_of(measure: Measure, value: Any, *at: str | int) -> float:
    """A number a teacher wrote for ``measure``: plain, with one of its units, or as a percentage.

    Raises a fault ``at`` its place where it is anything else.
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
        expected = _("a number for the measure '{name}'", name=measure.name)
        if measure.unit:
            expected = _("a number for the measure '{name}' in {unit}", name=measure.name, unit=measure.unit)
        example = amount(0.5 if measure.unit == "%" else 50, measure.unit)
        raise fault(quoted(text), expected, _("write for example '{example}'.", example=example), *at)
    return given


def worth(value: Any, points: Any, *at: str | int) -> float:
    """Points for one entry of a criterion: plain, or a part of the criterion's own ``points`` such as '50 %'."""
    text = str(value).strip()
    part = number(text[:-1]) if text.endswith("%") else None
    whole = points if isinstance(points, float | int) else number(str(points))
    if part is not None and 0 <= part <= 100:
        return round((whole or 0.0) * part / 100, 2)  # points that cannot be read are told by their own field
    given = value if isinstance(value, float | int) else number(text)
    if given is None or not 0 <= given <= 1000 or round(given, 2) != given:
        raise fault(
            quoted(text), _("points from 0 to 1000, to 0.01, or a part such as '50 %'"), _("write one of the two."), *at
        )
    return float(given)


def best_is(best: float, points: float, what: str, key: str) -> None:
    """Raise a fault where the best entry of ``what`` is not worth the criterion's points."""
    if round(best, 2) != round(points, 2):
        raise fault(
            _(
                "{what} whose best is {best} points in a criterion of {points} points",
                what=what,
                best=f"{best:g}",
                points=f"{points:g}",
            ),
            _("the two to agree"),
            _("change 'points' or {word}.", word=quoted(key)),
            key,
        )


def said(measure: Measure, value: float) -> str:
    """``the mass is 48.2 g``."""
    return _("{measure} is {value}", measure=measure.in_a_sentence, value=amount(value, measure.unit))


def goal_said(criterion: Criterion, measure: Measure, value: float, goal: float, all_of_it: bool = True) -> str:
    """How to earn more: which way the measure must go, and how far."""
    way = _("Raise {measure} to {goal} {reward}.") if goal > value else _("Bring down {measure} to {goal} {reward}.")
    reward = criterion.to_earn(criterion.points, all_of_it)
    return way.format(measure=measure.in_a_sentence, goal=amount(goal, measure.unit), reward=reward)


def not_measured(criterion: Criterion, measure: Measure, evidence: Evidence) -> Found:
    """What is found where the truss does not have the measure.

    A mechanism has few, a file with mistakes none.  A stable truss that lacks one, because finding it out
    would take too long, is left to the teacher.
    """
    if not evidence.read:
        return file_with_mistakes(criterion)
    if evidence.measures.get("mechanisms") == 0:
        return Found(
            None,
            _("no {measure}", measure=measure.said),
            _("It could not be worked out for this truss, so your teacher decides."),
            judged=False,
        )
    return nothing_yet(
        criterion,
        _("no {measure}", measure=measure.said),
        _("A truss that can move has no {measure}.", measure=measure.said),
        _("Make the truss stable first."),
    )
