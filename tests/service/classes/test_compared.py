"""Marks before and after, by criterion, attempt and student."""

from __future__ import annotations

from rubric.criteria.common import CriterionMark
from rubric.marking import Marks
from rubric.rules.attempts import Attempts
from service.classes.compared import Work, differences, student, summary


def mark(name: str, points: float | None, out_of: float = 10) -> CriterionMark:
    return CriterionMark(name=name, kind="threshold", points=points, out_of=out_of, seen="", asked="", why="")


def marks(**points: float | None) -> Marks:
    total = sum(p for p in points.values() if p is not None)
    return Marks(criteria=tuple(mark(n, p) for n, p in points.items()), total=total, out_of=10 * len(points))


def work(number: int, before: float, after: float | None, failed: bool = False, mistakes: bool = False) -> Work:
    new = None if after is None else marks(a=after)
    return Work(f"Attempt {number}", number, number, marks(a=before), new, failed, mistakes)


def test_a_criterion_that_comes_or_goes_is_a_difference() -> None:
    rows = differences(marks(a=3, b=4), marks(a=3, c=5))
    assert [(row.name, row.change, row.differs) for row in rows] == [("a", 0, False), ("c", 5, True), ("b", -4, True)]


def test_what_waits_for_the_teacher_counts_as_nought_and_is_no_difference() -> None:
    (row,) = differences(marks(a=None), marks(a=None))
    assert (row.change, row.differs) == (0, False)


def test_the_line_of_an_attempt_names_what_changed() -> None:
    one = Work("Attempt 1", 1, 1, marks(a=3, b=4), marks(a=5, b=4))
    assert (one.change, one.why) == (2, "a: 3 of 10 → 5 of 10")
    assert work(1, 3, None).why == "being solved again"
    assert work(1, 3, None, failed=True).why == "could not be tried"


def test_another_attempt_may_count_afterwards() -> None:
    best = Attempts(counts="best")
    one = student("Ada", [work(1, 8, 4), work(2, 6, 7)], best, best)
    assert (one.counted.number, one.counts.number, one.change) == (1, 2, -1)  # type: ignore[union-attr]


def test_a_rule_of_attempts_that_changes_is_followed() -> None:
    one = student("Ada", [work(1, 8, 8), work(2, 6, 6)], Attempts(counts="best"), Attempts(counts="last"))
    assert one.change == -2


def test_while_a_worker_has_an_attempt_nothing_is_said_of_the_student() -> None:
    best = Attempts(counts="best")
    assert student("Ada", [work(1, 8, 4), work(2, 6, None)], best, best).change is None
    assert student("Ada", [work(1, 8, 4), work(2, 6, None, failed=True)], best, best).change == -4


def test_a_file_with_mistakes_counts_only_where_there_is_nothing_better() -> None:
    best = Attempts(counts="best")
    one = student("Ada", [work(1, 0, 0, mistakes=True), work(2, 0, 0)], best, best)
    assert one.counts.number == 2  # type: ignore[union-attr]


def test_the_class_in_numbers() -> None:
    best = Attempts(counts="best")
    found = summary([student(n, [work(1, 5, a)], best, best) for n, a in (("a", 7), ("b", 4), ("c", 5), ("d", None))])
    assert (found.gain, found.lose, found.same) == (1, 1, 1)
    assert (found.mean_before, found.mean_after) == (5.0, 5.3)
