"""What a class's work shows: how marks spread, what lost most, what failed.  Pure: works in, counts out.

Only counting: every force and every load was computed by a worker.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rubric.brief import REACH_MM
from rubric.criteria.common import CriterionMark
from rubric.language import later
from rubric.marking import Marks
from rubric.messages.outcomes import Analysis, JointRow, Marked, MemberRow

BANDS = (later("nothing"), later("up to half"), later("more than half"), later("all of it"))
"""How much of a criterion's points a work has earned."""

UPRIGHT, LEVEL = 75, 25
"""From how many degrees on a member counts as a post, and up to how many as part of a chord."""


@dataclass(frozen=True)
class Seen:
    """The work of one student that counts."""

    marks: Marks
    outcome: Marked


@dataclass(frozen=True)
class Spread:
    """One criterion over all works: how many earned how much (:data:`BANDS`), and what was lost."""

    name: str
    out_of: float
    bands: tuple[int, ...]
    waiting: int
    mean: float | None
    """Points on average of those not waiting; None where all wait."""
    lost: float
    """Points that all works together did not earn; a bonus cannot be lost."""

    @property
    def marked(self) -> int:
        """How many works are marked by it."""
        return sum(self.bands)


@dataclass(frozen=True)
class Failing:
    """One kind of member failing in one mode."""

    part: str
    mode: str
    first: int
    """In how many bridges such a member breaks first."""
    over: int
    """How many such members in all bridges would fail below the target load."""


@dataclass(frozen=True)
class Standing:
    """How far the works have come."""

    works: int
    mistaken: int
    moving: int
    weak: int
    """Stable, but the target load is more than they carry."""
    enough: int
    outside: int
    """Those that do not keep the limits of the brief."""


def spreads(works: Sequence[Seen]) -> tuple[Spread, ...]:
    """Each criterion in the rubric's order; of works under several versions, criteria of one name together."""
    rows: dict[str, list[CriterionMark]] = {}
    for work in works:
        for row in work.marks.criteria:
            rows.setdefault(row.name, []).append(row)
    return tuple(_spread(name, given) for name, given in rows.items())


def most_lost(found: Sequence[Spread]) -> Spread | None:
    """The criterion on which all together lost most points; None where nothing was lost."""
    return max((spread for spread in found if spread.lost > 0), key=lambda spread: spread.lost, default=None)


def standing(works: Sequence[Seen]) -> Standing:
    """How many hold mistakes, can move, are too weak or strong enough."""
    analyses = [work.outcome.analysis for work in works if work.outcome.analysis]
    stable = [work for work in works if work.outcome.analysis and work.outcome.analysis.state == "stable"]
    weak = sum((work.outcome.measures.get("reserve factor") or 0.0) < 1 for work in stable)
    return Standing(
        works=len(works),
        mistaken=sum(bool(work.outcome.mistakes) for work in works),
        moving=len(analyses) - len(stable),
        weak=weak,
        enough=len(stable) - weak,
        outside=sum(bool(analysis.limits_broken) for analysis in analyses),
    )


def failures(analyses: Sequence[Analysis]) -> tuple[Failing, ...]:
    """Which members fail and how, those that break first in most bridges before the others."""
    first: Counter[tuple[str, str]] = Counter()
    over: Counter[tuple[str, str]] = Counter()
    for analysis in analyses:
        joints = {joint.name: joint for joint in analysis.joints}
        rows = {row.name: row for row in analysis.members}
        failure = analysis.first_failure
        if failure is not None and failure.member in rows:
            first[part_of(rows[failure.member], joints), failure.mode] += 1
        over.update((part_of(row, joints), row.mode) for row in analysis.members if row.utilisation > 1)
    keys = sorted({*first, *over}, key=lambda key: (-first[key], -over[key], key))
    return tuple(Failing(part, mode, first[part, mode], over[part, mode]) for part, mode in keys)


def part_of(member: MemberRow, joints: Mapping[str, JointRow]) -> str:
    """What a member is in the bridge, by where it lies: deck, chord, post or diagonal; ``_`` says it."""
    one, other = joints[member.start], joints[member.end]
    if abs(one.y_mm) <= REACH_MM and abs(other.y_mm) <= REACH_MM:
        return later("deck member")
    slope = math.degrees(math.atan2(abs(other.y_mm - one.y_mm), abs(other.x_mm - one.x_mm)))
    if slope >= UPRIGHT:
        return later("post")
    if slope <= LEVEL and min(one.y_mm, other.y_mm) > REACH_MM:
        return later("top chord member")
    if slope <= LEVEL and max(one.y_mm, other.y_mm) < -REACH_MM:
        return later("bottom chord member")
    return later("diagonal")


def _spread(name: str, rows: Sequence[CriterionMark]) -> Spread:
    marked = [(row, row.points) for row in rows if row.points is not None]
    bands = Counter(_band(row, points) for row, points in marked)
    return Spread(
        name=name,
        out_of=max(row.out_of for row in rows),
        bands=tuple(bands[band] for band in range(len(BANDS))),
        waiting=len(rows) - len(marked),
        mean=sum(points for _, points in marked) / len(marked) if marked else None,
        lost=round(sum(row.out_of - points for row, points in marked if row.counts_as != "bonus"), 2),
    )


def _band(row: CriterionMark, points: float) -> int:
    """Which band a work stands in; of a deduction, all of it where nothing was taken away."""
    if row.counts_as == "deduction":
        return 3 if points >= 0 else 0
    if points >= row.out_of:
        return 3
    return 0 if points <= 0 else 1 if points <= row.out_of / 2 else 2
