"""Marks before and after: who changes, by how much and why, criterion by criterion.  Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rubric.criteria.common import CriterionMark
from rubric.language import _
from rubric.marking import Marks
from rubric.rules.attempts import Attempts
from rubric.wording import points


@dataclass(frozen=True)
class Row:
    """One criterion; a side is None where that rubric does not ask for it."""

    name: str
    before: CriterionMark | None
    after: CriterionMark | None

    @property
    def change(self) -> float:
        """Points gained; what waits for the teacher counts as nought."""
        return round(_points(self.after) - _points(self.before), 2)

    @property
    def differs(self) -> bool:
        """Whether points, or what they are out of, are not the same."""
        return side(self.before) != side(self.after)


@dataclass(frozen=True)
class Work:
    """One attempt or sample; ``after`` is None while a worker has it, or where it failed."""

    title: str
    number: int
    submission_id: int | None
    before: Marks | None
    after: Marks | None
    failed: bool = False
    has_mistakes: bool = False

    @property
    def rows(self) -> tuple[Row, ...]:
        return differences(self.before, self.after) if self.after else ()

    @property
    def change(self) -> float | None:
        """Points gained in all."""
        return round(self.after.total - self.before.total, 2) if self.after and self.before else None

    @property
    def why(self) -> str:
        """The criteria that changed, in a line."""
        if self.after is None:
            return _("could not be tried") if self.failed else _("being solved again")
        changed = [f"{row.name}: {side(row.before)} → {side(row.after)}" for row in self.rows if row.differs]
        rules = self.before is not None and self.before.rules != self.after.rules
        return "; ".join([*changed, *([_("what the rules do to the whole")] if rules else [])])


@dataclass(frozen=True)
class Student:
    """One student: the attempt that counts before and after, and all attempts."""

    name: str
    works: tuple[Work, ...]
    counted: Work | None
    counts: Work | None
    """None while work is still out."""

    @property
    def change(self) -> float | None:
        """How the student's mark moves."""
        if not (self.counted and self.counted.before and self.counts and self.counts.after):
            return None
        return round(self.counts.after.total - self.counted.before.total, 2)


def differences(before: Marks | None, after: Marks) -> tuple[Row, ...]:
    """Every criterion of either, those of ``after`` first."""
    was = {mark.name: mark for mark in before.criteria} if before else {}
    new = {mark.name: mark for mark in after.criteria}
    return tuple(Row(name, was.get(name), new.get(name)) for name in {**new, **was})


def student(name: str, works: Sequence[Work], old: Attempts, new: Attempts) -> Student:
    """Which attempt counts under either rule; ``works`` are in the order of handing in."""
    done = all(work.after is not None or work.failed for work in works)
    after = _counting([work for work in works if work.after], new, before=False) if done else None
    return Student(name, tuple(works), _counting([work for work in works if work.before], old, before=True), after)


@dataclass(frozen=True)
class Summary:
    """The whole class in numbers."""

    gain: int
    lose: int
    same: int
    mean_before: float | None
    mean_after: float | None


def summary(students: Sequence[Student]) -> Summary:
    """Over the students whose mark is known on both sides."""
    known = [one for one in students if one.change is not None]
    changes = [one.change or 0.0 for one in known]
    before = [one.counted.before.total for one in known if one.counted and one.counted.before]
    after = [one.counts.after.total for one in known if one.counts and one.counts.after]
    return Summary(
        gain=sum(change > 0 for change in changes),
        lose=sum(change < 0 for change in changes),
        same=sum(change == 0 for change in changes),
        mean_before=round(sum(before) / len(before), 1) if before else None,
        mean_after=round(sum(after) / len(after), 1) if after else None,
    )


def side(mark: CriterionMark | None) -> str:
    """``12 of 20``, ``waits``, ``not asked``."""
    if mark is None:
        return _("not asked")
    if mark.points is None:
        return _("waits, of {of}", of=points(mark.out_of))
    return _("{points} of {of}", points=points(mark.points), of=points(mark.out_of))


def _points(mark: CriterionMark | None) -> float:
    return 0.0 if mark is None else mark.points or 0.0


def _counting(works: Sequence[Work], rule: Attempts, *, before: bool) -> Work | None:
    """As the class list has it: a file with mistakes counts only where there is nothing better."""
    read = [work for work in works if not work.has_mistakes] or list(works)
    sides = [work.before if before else work.after for work in read]
    place = rule.counting([marks.total if marks else 0.0 for marks in sides])
    return None if place is None else read[place]
