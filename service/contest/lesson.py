"""Prediction beside measurement, for a lesson: the factor of all, and whether bridges broke in the way predicted.

How a bridge broke is what somebody noted at the rig.  Where nobody did, nothing is made of the place or the load.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rubric.contest.breaking import AXIS_OF, MODE_OF, at_the_place
from rubric.contest.factor import Factor, Proposal, class_factor, proposals
from rubric.contest.official import Result
from rubric.drawing.agreement import Dot, agreement
from rubric.language import later
from rubric.messages.outcomes import Figure
from service.contest.standings import Broke, Standings, broke_last

MODES = {
    "tension": later("a stick pulled apart"),
    "crushing": later("a stick crushed"),
    "buckling": later("a stick buckled"),
    "bending": later("a stick bent through"),
    "joint": later("a glued joint gave way"),
}
"""What was predicted to happen first, in words."""

BROKE_BY = {
    "tension": later("by tension"),
    "crushing": later("by crushing"),
    "buckling": later("by buckling"),
    "bending": later("by bending"),
    "joint": later("at a glued joint"),
}
"""The same, of bridges that broke so."""


@dataclass(frozen=True)
class Tested:
    """A bridge that was tested: its result, what was predicted to fail, and what was noted."""

    result: Result
    member: str
    mode: str
    axis: str
    broke: Broke

    @property
    def told(self) -> bool:
        """Whether somebody saw in which way it broke."""
        return self.broke.how in MODE_OF

    @property
    def as_predicted(self) -> bool:
        """Whether it broke in the way that was predicted, wherever that was."""
        return self.told and MODE_OF[self.broke.how] == self.mode

    @property
    def there(self) -> bool:
        """Whether it broke at the predicted member or one of its joints."""
        return at_the_place(self.broke.where, self.member)


@dataclass(frozen=True)
class ByMode:
    """Of the bridges that were predicted to break in one way: how many were seen to break, and how."""

    words: str
    seen: int
    so: int
    there: int


@dataclass(frozen=True)
class Lesson:
    """What the sheet tells."""

    tested: tuple[Tested, ...]
    factor: Factor | None
    drawing: Figure
    low: tuple[Result, ...]
    """Those that carried less than half of what was predicted."""

    @property
    def told(self) -> list[Tested]:
        """Those whose way of breaking was seen."""
        return [one for one in self.tested if one.told]

    @property
    def as_predicted(self) -> list[Tested]:
        """Those that broke in the predicted way."""
        return [one for one in self.tested if one.as_predicted]

    @property
    def whole(self) -> int:
        """How many held until the test was stopped."""
        return sum(one.broke.how == "did not break" for one in self.tested)

    @property
    def not_noted(self) -> int:
        """How many have no word on how they broke: nobody noted it, or nobody saw it."""
        return len(self.tested) - len(self.told) - self.whole

    @property
    def sides(self) -> tuple[int, int]:
        """Struts that buckled as predicted and whose predicted way is known; how many of them went that way."""
        known = [one for one in self.as_predicted if one.broke.how in AXIS_OF and one.axis in AXIS_OF.values()]
        return len(known), sum(AXIS_OF[one.broke.how] == one.axis for one in known)

    @property
    def by_mode(self) -> list[ByMode]:
        """A row for each way that was predicted."""
        own = {mode: [one for one in self.told if one.mode == mode] for mode in MODES}
        return [
            ByMode(MODES[mode], len(rows), sum(r.as_predicted for r in rows), sum(r.there for r in rows))
            for mode, rows in own.items()
            if rows
        ]

    @property
    def proposals(self) -> tuple[Proposal, ...]:
        """What the next brief might use, from the bridges that were seen to break as predicted."""
        return proposals(
            [(one.mode, one.result.bridge.predicted_N or 0.0, one.result.load_N or 0.0) for one in self.as_predicted]
        )


def lesson(found: Standings) -> Lesson:
    """The sheet of a contest as it stands."""
    tested = [r for r in found.results if r.load_N is not None and r.bridge.predicted_N]
    dots = [Dot(r.bridge.number, r.bridge.predicted_N or 0.0, r.load_N or 0.0) for r in tested]
    factor = class_factor([(dot.predicted_N, dot.measured_N) for dot in dots])
    low = sorted((r for r in tested if (r.of_prediction or 1.0) < 0.5), key=lambda r: r.bridge.number)
    return Lesson(_tested(found, tested), factor, agreement(dots, factor), tuple(low))


def _tested(found: Standings, results: Sequence[Result]) -> tuple[Tested, ...]:
    made = []
    for result in results:
        entry = found.entries[result.bridge.number]
        said = entry.predicted
        noted = broke_last(entry, found.rows) or Broke()
        made.append(Tested(result, said.get("member", ""), said.get("mode", ""), said.get("axis", ""), noted))
    return tuple(made)
