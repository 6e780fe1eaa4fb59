"""From the sum of the points to the total: entry conditions, lateness, rounding and bounds, in this order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from rubric.criteria.common import points_said
from rubric.evidence import Evidence
from rubric.language import _
from rubric.rules.entry import ZERO, Entry
from rubric.wording import points

if TYPE_CHECKING:
    from rubric.rubrics import Rubric


@dataclass(frozen=True)
class Step:
    """The total after one rule; ``why`` says what the rule did, nothing where it did nothing."""

    total: float
    why: str = ""


def settle(rubric: Rubric, evidence: Evidence, earned: float) -> tuple[float, tuple[str, ...]]:
    """The total and what the rules did to ``earned``, in sentences that begin with the points they changed."""
    total, rules = earned, []
    for step in _steps(rubric, evidence, earned):
        change = round(step.total - total, 2)
        if step.why:
            rules.append(_changed(change, step.why) if change else f"{step.why[:1].upper()}{step.why[1:]}.")
        total = step.total
    return total, tuple(rules)


def on_board(rubric: Rubric, evidence: Evidence) -> bool:
    """Whether every entry condition holds but those that only cap the mark."""
    return all(condition.holds(evidence) for condition in rubric.entry if not condition.cap)


def _steps(rubric: Rubric, evidence: Evidence, earned: float) -> Iterator[Step]:
    total = earned
    for condition in rubric.entry:
        if not condition.holds(evidence):
            step = _entry(condition, evidence, total)
            if evidence.read or step.total != total:  # a file with mistakes has enough to hear
                yield step
            total = step.total
    if rubric.lateness and (cost := rubric.lateness.cost(evidence.minutes_late, total)):
        total = round(total - cost, 2)
        yield Step(total, rubric.lateness.why(evidence.minutes_late))
    low, high = rubric.bounds
    if rubric.round_to is not None and (rounded := nearest(total, rubric.round_to)) != total and rounded <= high:
        total = rounded
        yield Step(total, _("rounded to {unit}", unit=unit_said(rubric.round_to)))
    if total < low:
        yield Step(low, _("a mark is never below {points}", points=points(low)))
    if total > high:
        yield Step(high, _("a mark is never above {points}", points=points(high)))


def nearest(value: float, unit: float) -> float:
    """``value`` to the nearest multiple of ``unit``; a half goes up, as school rounds."""
    step = Decimal(str(unit))
    return float((Decimal(str(value)) / step).quantize(Decimal(1), ROUND_HALF_UP) * step)


def _entry(condition: Entry, evidence: Evidence, total: float) -> Step:
    why, cap = condition.why(evidence), condition.cap
    if cap is None:
        return Step(total, _("not on the leaderboard, because {why}", why=why))
    if condition.if_not == ZERO:
        return Step(min(total, 0.0), _("no points count, because {why}", why=why))
    return Step(min(total, cap), _("no more than {points} points count, because {why}", points=points(cap), why=why))


def _changed(change: float, why: str) -> str:
    said = points_said(abs(change))
    if change < 0:
        return _("Minus {points}: {why}.", points=said, why=why)
    return _("Plus {points}: {why}.", points=said, why=why)


def unit_said(unit: float) -> str:
    """``whole points``, ``the nearest 0.5``."""
    return _("whole points") if unit == 1 else _("the nearest {unit}", unit=points(unit))
