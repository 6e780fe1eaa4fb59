"""Lateness: what handing in after the due date costs.

.. code-block:: yaml

    lateness: {grace: 10 min, per day: 10 %, most: 30 %}

Work handed in 8 minutes late loses nothing; 2 hours late, a day has begun and 10 % of the points earned
are lost; 26 hours late, two days have begun and 20 % are lost; a week late 30 %, the most there is.  Write
``per hour`` in place of ``per day`` for a shorter step, and points such as ``5 points`` in place of parts.
Beyond the grace, time counts from the due date.
"""

from __future__ import annotations

import math
import re
from typing import Annotated, Any

from pydantic import Field, model_validator

from rubric.criteria.common import points_said, points_written
from rubric.language import _, counted, later
from rubric.problems import quoted
from rubric.quantities import number
from rubric.shapes import Minutes, Shape, fault
from rubric.wording import localised
from rubric.written import DECIMAL, reads, text_like

HOUR, DAY = 60, 1440
"""Minutes."""


def _cost(value: Any) -> str:
    text = " ".join(str(value).split()).casefold()
    part = re.fullmatch(r"(\S+?) ?%", text)
    plain = re.fullmatch(r"(\S+) points?", text)
    given = number((part or plain or [text, ""])[1])
    if given is None or not 0 < given <= (100 if part else 1000) or round(given, 2) != given:
        raise fault(quoted(text), _("a part or points above 0"), _("write for example '10 %' or '5 points'."))
    return f"{given:g} %" if part else points_written(given)


Cost = Annotated[str, reads(_cost, text_like(rf"{DECIMAL} *(?:%|[Pp][Oo][Ii][Nn][Tt][Ss]?)"))]


class Lateness(Shape):
    """See the module's docstring, which is the page the teacher reads."""

    grace_min: Minutes = Field(0.0, description=later("lateness that costs nothing"), examples=["10 min"])
    per_day: Cost | None = Field(None, description=later("what each day begun costs"), examples=["10 %"])
    per_hour: Cost | None = Field(None, description=later("what each hour begun costs"), examples=["2 %"])
    most: Cost | None = Field(None, description=later("the most that lateness costs"), examples=["30 %"])

    @model_validator(mode="after")
    def _ends(self) -> Lateness:
        if (self.per_day is None) == (self.per_hour is None):
            raise fault(
                _("neither 'per day' nor 'per hour'") if self.per_day is None else _("both 'per day' and 'per hour'"),
                _("one of the two"),
                _("write for example 'per day: 10 %'."),
            )
        if self.most is None:
            raise fault(_("lateness that never ends"), _("the most that it costs"), _("add for example 'most: 30 %'."))
        if self.in_parts != self.most.endswith("%"):
            raise fault(
                _("{cost} with a most of {most}", cost=quoted(self._each), most=quoted(self.most)),
                _("both as parts, or both as points"),
                _("write 'most' like {word}.", word=quoted(self._each)),
                "most",
            )
        if _size(self.most) < _size(self._each):
            if self.per_day:
                found = _("a most of {most} under {cost} for the first day")
            else:
                found = _("a most of {most} under {cost} for the first hour")
            raise fault(
                found.format(most=quoted(self.most), cost=quoted(self._each)),
                _("no less than one step costs"),
                _("raise 'most'."),
                "most",
            )
        return self

    @property
    def _each(self) -> str:
        each = self.per_day or self.per_hour
        assert each is not None
        return each

    @property
    def in_parts(self) -> bool:
        """Whether it costs a part of what was earned, in place of points."""
        return self._each.endswith("%")

    def steps(self, minutes_late: float) -> int:
        """Days or hours begun; 0 within the grace."""
        if minutes_late <= self.grace_min:
            return 0
        return math.ceil(minutes_late / (DAY if self.per_day else HOUR))

    def cost(self, minutes_late: float, earned: float) -> float:
        """Points that lateness takes from ``earned``, never more than these, to 0.01."""
        size = min(self.steps(minutes_late) * _size(self._each), _size(self.most or self._each))
        taken = earned * size / 100 if self.in_parts else size
        return round(min(max(earned, 0.0), taken), 2) if size else 0.0

    def why(self, minutes_late: float) -> str:
        """What was seen and what it cost, in words."""
        steps, said = self.steps(minutes_late), self._said()
        if self.per_day:
            begun = counted("{count} day has begun", "{count} days have begun", steps)
        else:
            begun = counted("{count} hour has begun", "{count} hours have begun", steps)
        each = f"{said[:1].upper()}{said[1:]}"
        return _("handed in {late} late. {each}, and {begun}", late=how_late(minutes_late), each=each, begun=begun)

    def rule(self) -> str:
        """What it says before anything is handed in."""
        said = _("Late work: {costs}.", costs=self._said())
        if not self.grace_min:
            return said
        grace = _("The first {time} cost nothing.", time=how_late(self.grace_min))
        return f"{said} {grace}"

    def _said(self) -> str:
        cost, most = _cost_said(self._each), _cost_said(self.most or self._each)
        of = _("{part} of your points", part=cost) if self.in_parts else cost
        if self.per_day:
            return _("each day begun costs {cost}, {most} at most", cost=of, most=most)
        return _("each hour begun costs {cost}, {most} at most", cost=of, most=most)


def how_late(minutes: float) -> str:
    """``2 days 3 hours``, ``1 hour 5 minutes``, ``8 minutes``."""
    whole = max(1, math.ceil(minutes))
    days, rest = divmod(whole, DAY)
    hours, left = divmod(rest, HOUR)
    parts = [
        (days, counted("{count} day", "{count} days", days)),
        (hours, counted("{count} hour", "{count} hours", hours)),
        (left if not days else 0, counted("{count} minute", "{count} minutes", left)),
    ]
    return " ".join(said for count, said in parts if count)


def _cost_said(cost: str) -> str:
    return localised(cost) if cost.endswith("%") else points_said(_size(cost))


def _size(cost: str) -> float:
    return float(cost.split()[0])
