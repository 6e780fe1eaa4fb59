"""The running order."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from rubric.contest.order import Runner, running_order

sizes = st.lists(st.integers(1, 12), min_size=1, max_size=6)


def school(classes: list[int], bridges: int = 1) -> list[Runner]:
    pupils = [(f"class {c}", 100 * c + p) for c, size in enumerate(classes) for p in range(size)]
    return [Runner(n, *who) for n, who in enumerate((who for who in pupils for _ in range(bridges)), 1)]


@given(sizes, st.integers(0, 99))
def test_every_entry_runs_once_and_the_same_seed_gives_the_same_order(classes: list[int], seed: int) -> None:
    order = running_order(school(classes), seed)
    assert sorted(order) == [runner.number for runner in school(classes)]
    assert order == running_order(school(classes), seed)


@given(sizes, st.integers(0, 99))
def test_no_class_follows_itself_where_that_can_be_helped(classes: list[int], seed: int) -> None:
    named = {r.number: r.school_class for r in school(classes)}
    order = [named[number] for number in running_order(school(classes), seed)]
    doubled = sum(a == b for a, b in pairwise(order))
    assert doubled == max(0, 2 * max(classes) - sum(classes) - 1)


@given(sizes, st.integers(0, 99))
def test_the_two_bridges_of_a_pupil_have_a_whole_round_of_the_class_between_them(classes: list[int], seed: int) -> None:
    runners = school(classes, bridges=2)
    order = running_order(runners, seed)
    for one, other in zip(runners[::2], runners[1::2], strict=True):
        of_class = sum(r.school_class == one.school_class for r in runners) // 2
        assert abs(order.index(one.number) - order.index(other.number)) >= of_class


def test_classes_are_spread_over_the_day() -> None:
    runners = school([30, 30, 30])
    named = {r.number: r.school_class for r in runners}
    order = [named[number] for number in running_order(runners, 7)]
    for quarter in (order[:24], order[24:48], order[48:72]):
        assert all(7 <= quarter.count(name) <= 9 for name in set(order))


def test_another_seed_gives_another_order() -> None:
    assert running_order(school([9, 9]), 1) != running_order(school([9, 9]), 2)
