"""The rubric: criteria with points, declared by a teacher.  No formulas, no code.

.. code-block:: yaml

    title: Footbridge, marks out of 100
    out of: 100
    release: at once
    entry:
      - {measure: mechanisms, at most: 0, if not: cap at 20 points}
    lateness: {grace: 10 min, per day: 10 %, most: 30 %}
    attempts: {most: 5, counts: best, wait: 10 min}
    round to: 0.5
    least: 0
    most: 100
    criteria:
      - {name: Carries the load, kind: threshold, measure: reserve factor, at least: 1, points: 60}
      - {name: Efficiency, kind: scale, measure: efficiency, earns: {100: 0 %, 600: 100 %}, weight: 3}
      - {name: Few joints, kind: count, of: joints, at most: 12, weight: 1}

A criterion with ``weight`` in place of ``points`` takes its share of what the others leave of ``out of``: here
30 and 10 points.  ``bonus: yes`` puts a criterion's points on top; ``deduct: yes`` takes away what it does not
earn, and adds nothing.  A mark is never below ``least``, which is 0 when left out, nor above ``most``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any, Literal, get_args

from pydantic import Field, model_validator

from rubric.criteria import AnyCriterion
from rubric.criteria.common import Points, points_said
from rubric.criteria.place import Place
from rubric.language import _, later
from rubric.problems import quoted
from rubric.quantities import number
from rubric.rules.attempts import Attempts
from rubric.rules.entry import Entry
from rubric.rules.lateness import Lateness
from rubric.rules.total import unit_said
from rubric.shapes import Shape, Words, choice, fault, read
from rubric.wording import points

Release = Literal["at once", "by hand"]


class Rubric(Shape):
    """How a truss is judged."""

    title: Words = Field(description=later("a title"), examples=["Footbridge marks"])
    out_of: Points | None = Field(None, description=later("the sum of all points"), examples=["100"])
    release: Annotated[Release, choice(*get_args(Release))] = Field(
        "at once", description=later("when students see their marks"), examples=["by hand"]
    )
    entry: tuple[Entry, ...] = Field(
        (), description=later("a list of conditions"), examples=["[{measure: mechanisms, at most: 0, if not: zero}]"]
    )
    lateness: Lateness | None = Field(
        None, description=later("what late work loses"), examples=["{per day: 10 %, most: 30 %}"]
    )
    attempts: Attempts = Field(Attempts(), description=later("how many attempts"), examples=["{most: 5}"])
    round_to: Points | None = Field(None, description=later("what totals are rounded to"), examples=["0.5"])
    least: float = Field(0.0, description=later("the least that a mark can be"), examples=["0"], ge=0, le=1000)
    most: Points | None = Field(None, description=later("the most that a mark can be"), examples=["100"])
    criteria: tuple[AnyCriterion, ...] = Field(
        description=later("a list of criteria"),
        examples=["[{name: ..., kind: ..., points: ...}]"],
        json_schema_extra={"minItems": 1, "maxItems": 50},
    )

    @model_validator(mode="before")
    @classmethod
    def _shared_by_weight(cls, data: Any) -> Any:
        if not isinstance(data, dict) or not isinstance(data.get("criteria"), list | tuple):
            return data
        return {**data, "criteria": by_weight(data["criteria"], data.get("out of"))}

    @model_validator(mode="after")
    def _adds_up(self) -> Rubric:
        names = [criterion.name for criterion in self.criteria]
        if not 1 <= len(names) <= 50:
            raise fault(
                _("{count} criteria", count=len(names)), _("1 to 50"), _("add or take out criteria."), "criteria"
            )
        for place, name in enumerate(names):
            if name in names[:place]:
                at = ("criteria", place, "name")
                raise fault(
                    _("two criteria called {word}", word=quoted(name)),
                    _("different names"),
                    _("rename one of them."),
                    *at,
                )
        if not self.full:
            raise fault(_("nothing but bonus and deductions"), _("points to earn"), _("add a criterion."), "criteria")
        if self.out_of is not None and self.full != self.out_of:
            raise fault(
                _(
                    "criteria worth {points} in all under 'out of: {out_of}'",
                    points=points_said(self.full),
                    out_of=f"{self.out_of:g}",
                ),
                _("the two to agree"),
                _("change 'out of' or the points of a criterion."),
                "out of",
            )
        return self

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> Rubric:
        if self.least > self.full or self.least > (self.most or self.full):
            raise fault(
                _("a least mark of {points}", points=points(self.least)),
                _("less than the most that can be earned"),
                _("lower 'least'."),
                "least",
            )
        if self.most is not None and self.most > self.reachable:
            raise fault(
                _(
                    "a most of {most} where {points} can be earned",
                    most=points(self.most),
                    points=points_said(self.reachable),
                ),
                _("no more than that"),
                _("lower 'most', or leave it out."),
                "most",
            )
        for place, criterion in enumerate(self.criteria):
            if isinstance(criterion, Place) and self.release == "at once":
                raise fault(
                    _("the place criterion {word} in marks that are released at once", word=quoted(criterion.name)),
                    _("'release: by hand', because a place is settled when all have handed in"),
                    _("add the line 'release: by hand' to the rubric."),
                    *("criteria", place, "kind"),
                )
        return self

    @property
    def rules(self) -> tuple[str, ...]:
        """What holds for the whole mark, in sentences a student reads; nothing where nothing was set."""
        said = [condition.rule() for condition in self.entry]
        said += [self.lateness.rule()] if self.lateness else []
        said += [self.attempts.rule()] if self.attempts != Attempts() else []
        said += [_("Your mark is rounded to {unit}.", unit=unit_said(self.round_to))] if self.round_to else []
        said += [_("Your mark is never below {points}.", points=points(self.least))] if self.least else []
        said += [_("Your mark is never above {points}.", points=points(self.most))] if self.most else []
        return tuple(said)

    @property
    def full(self) -> float:
        """What the whole is out of: all points but bonus and deductions."""
        return round(sum(c.points for c in self.criteria if c.counts_as == "points"), 2)

    @property
    def reachable(self) -> float:
        """The most that can be earned, with every bonus."""
        return round(sum(criterion.bounds[1] for criterion in self.criteria), 2)

    @property
    def bounds(self) -> tuple[float, float]:
        """The least and the most that a mark can be."""
        return self.least, self.reachable if self.most is None else self.most


def by_weight(criteria: Sequence[Any], out_of: Any) -> list[Any]:
    """The criteria with points in place of weights, where ``out_of`` and every weight can be read.

    They share what the others leave of ``out_of``, each to 0.01; the last takes what rounding leaves over.
    A weight that cannot be read, or has nothing to share, stays for its own field to tell.
    """
    whole = _number(out_of)
    weighed = [c for c in criteria if isinstance(c, dict) and c.get("weight") is not None and "points" not in c]
    weights = [_number(c["weight"]) for c in weighed]
    known = [w for w in weights if w is not None and 0 < w <= 1000]
    if whole is None or len(known) < len(weights):
        return [{**c, "points": 1} if any(c is one for one in weighed) else c for c in criteria]
    plain = [c for c in criteria if isinstance(c, dict) and "points" in c and not _on_top(c)]
    rest = whole - sum(_number(c["points"]) or 0.0 for c in plain)
    if weighed and rest * min(known) / sum(known) < 0.01:
        found = _("no points left of 'out of: {whole}' for the weights", whole=f"{whole:g}")
        raise fault(found, _("some to share"), _("raise 'out of', or lower the points of a criterion."), "out of")
    shares, given = iter(known), 0.0
    shared: list[Any] = []
    for criterion in criteria:
        if not any(criterion is one for one in weighed):
            shared.append(criterion)
            continue
        last = criterion is weighed[-1]
        share = round(rest - given if last else rest * next(shares) / sum(known), 2)
        given += share
        shared.append({**{k: v for k, v in criterion.items() if k != "weight"}, "points": share})
    return shared


def _on_top(criterion: dict[str, Any]) -> bool:
    return any(str(criterion.get(key, "no")).casefold() in ("yes", "true") for key in ("bonus", "deduct"))


def _number(value: Any) -> float | None:
    return float(value) if isinstance(value, float | int) else number(str(value))


def read_rubric(data: bytes) -> Rubric:
    """Read a rubric from the bytes of its YAML file.

    Raises
    ------
    Refused
        With every problem of the file.
    """
    return read(Rubric, data)
