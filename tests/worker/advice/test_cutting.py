"""Cut lists: nothing lost, nothing too long, never below the bound, and the fewest where that can be counted."""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric import library
from worker.advice import patterns
from worker.advice.cutting import CutList, cut_list, cut_lists
from worker.truss.reader import read_truss

BRIEF = library.brief("footbridge")
lengths = st.lists(st.floats(20, 300), min_size=1, max_size=30)


def named(lengths_mm: list[float]) -> list[tuple[str, float]]:
    return [(f"p{number}", mm) for number, mm in enumerate(lengths_mm)]


def fewest(sizes: tuple[int, ...], capacity: int) -> int:
    """By trying everything: the fewest sticks, for up to about a dozen pieces."""

    @cache
    def sticks(left: frozenset[int]) -> int:
        if not left:
            return 0
        first, *rest = sorted(left)
        best = len(left)
        for mask in range(1 << len(rest)):
            group = {first, *(rest[i] for i in range(len(rest)) if mask >> i & 1)}
            if sum(sizes[i] for i in group) <= capacity:
                best = min(best, 1 + sticks(left - group))
        return best

    return sticks(frozenset(range(len(sizes))))


@settings(max_examples=60)
@given(lengths, st.floats(0, 3))
def test_every_piece_is_cut_once_and_every_stick_keeps_its_length(lengths_mm, kerf) -> None:
    found = cut_list(named(lengths_mm), 300.0, kerf)
    assert Counter(piece for stick in found.sticks for piece in stick) == Counter(named(lengths_mm))
    for stick in found.sticks:
        assert sum(mm + kerf for _, mm in stick) <= 300 + kerf + 1e-6
    assert found.bound <= len(found.sticks)
    assert found.optimal == (found.bound == len(found.sticks))


@settings(max_examples=60)
@given(st.lists(st.integers(10, 60), min_size=1, max_size=9), st.integers(0, 3))
def test_small_lists_need_what_trying_everything_finds(sizes, kerf) -> None:
    found = cut_list(named([float(size) for size in sizes]), 100.0, float(kerf))
    assert found.optimal
    assert len(found.sticks) == fewest(tuple(size + kerf for size in sizes), 100 + kerf)


@settings(max_examples=40)
@given(st.lists(st.integers(10, 60), min_size=1, max_size=9))
def test_no_bound_is_above_what_trying_everything_finds(sizes) -> None:
    demand = dict(Counter(sizes))
    exact = fewest(tuple(sizes), 100)
    known, best, proven = patterns._generated([(size,) for size in sizes], 1, demand, 100)
    assert patterns.counted_bound(demand, 100) <= exact
    assert proven <= exact <= len(best)
    assert all(sum(pattern) <= 100 for pattern in known)


@settings(max_examples=40)
@given(st.dictionaries(st.integers(5, 60), st.tuples(st.integers(1, 4), st.floats(0, 1)), min_size=1, max_size=6))
def test_the_knapsack_is_worth_as_much_as_the_best_of_all_patterns(items) -> None:
    def worth(pattern: tuple[int, ...]) -> float:
        return sum(items[size][1] for size in pattern)

    best = patterns._knapsack(items, 100)
    every = patterns._all([(size, count) for size, (count, _) in items.items()], 100)
    assert worth(best) == pytest.approx(max(map(worth, every)))
    assert sum(best) <= 100
    assert all(n <= items[size][0] for size, n in Counter(best).items())


def test_the_order_of_a_stick_is_longest_first_and_the_layout_always_the_same() -> None:
    pieces = named([40.0, 61.5, 22.0, 61.5, 30.0, 55.5, 18.0])
    found = cut_list(pieces, 100.0, 1.0)
    assert found == cut_list(dict(pieces), 100.0, 1.0)
    for stick in found.sticks:
        assert [mm for _, mm in stick] == sorted((mm for _, mm in stick), reverse=True)


def test_pieces_of_one_length_are_handed_out_in_the_order_given() -> None:
    found = cut_list(named([50.0] * 5), 100.0)
    assert [name for stick in found.sticks for name, _ in stick] == ["p0", "p1", "p2", "p3", "p4"]


def test_a_piece_longer_than_a_stick_is_named_and_the_rest_is_laid_out() -> None:
    found = cut_list({"long": 100.02, "just": 100.0, "short": 30.0}, 100.0, 5.0)
    assert found.too_long == (("long", 100.02),)
    assert found.sticks == ((("just", 100.0),), (("short", 30.0),))
    assert found.fits(99) is False


def test_enough_sticks_too_few_and_not_known_are_told_apart() -> None:
    found = CutList(((("a", 1.0),),) * 5, bound=4, optimal=False)
    assert [found.fits(count) for count in (3, 4, 5)] == [False, None, True]


def test_rounding_noise_wastes_no_stick() -> None:
    assert len(cut_list(named([0.1 + 0.2] * 3), 0.9).sticks) == 1
    assert len(cut_list(named([300.0 + 1e-10] * 3), 900.0).sticks) == 1
    assert len(cut_list(named([300.01] * 3), 900.0).sticks) == 2


def test_a_piece_as_long_as_its_stick_fits_whatever_the_kerf() -> None:
    for length, kerf in ((300.0, 0.625), (300.005, 0.0), (300.0049, 1 / 3)):
        assert cut_list({"a": length}, length, kerf).sticks == ((("a", length),),)


@pytest.mark.parametrize(
    ("length", "stick", "kerf"), [(0, 9, 0), (-1, 9, 0), (1, 0, 0), (1, 9, -1), (float("nan"), 9, 0)]
)
def test_lengths_that_make_no_sense_are_refused(length, stick, kerf) -> None:
    with pytest.raises(ValueError, match="above zero"):
        cut_list({"a": length}, stick, kerf)


def test_a_speck_is_a_piece_too() -> None:
    assert len(cut_list({"a": 1e-12, "b": 1e-12}, 900.0).sticks) == 1


def test_no_pieces_need_no_stick() -> None:
    assert cut_list({}, 900.0) == CutList((), 0, True)


def test_a_bridge_is_cut_for_all_its_sides_and_doubled_sticks() -> None:
    text = "joints: {a: [0, 0], b: [300, 0], c: [600, 0], d: [300, 160]}\nmembers: {a-b: square3, b-c: square3, a-d: square5 x2, d-c: square5 x2, b-d: square5}\n"
    found = cut_lists(read_truss(text.encode(), BRIEF), BRIEF, kerf_mm=1.0)
    assert list(found) == ["square3", "square5"]
    assert [mm for stick in found["square3"].sticks for _, mm in stick] == [300.0] * 4
    thick = Counter(name for stick in found["square5"].sticks for name, _ in stick)
    assert thick == {"a-d": 4, "d-c": 4, "b-d": 2}
    assert len(found["square3"].sticks) == 2


def test_an_allowance_lengthens_every_piece_at_either_end() -> None:
    text = "joints: {a: [0, 0], b: [300, 0], c: [600, 0]}\nmembers: {a-b: square3, b-c: square3}\n"
    found = cut_lists(read_truss(text.encode(), BRIEF), BRIEF, end_allowance_mm=6.0)["square3"]
    assert {mm for stick in found.sticks for _, mm in stick} == {312.0}


def test_more_sizes_than_are_searched_still_get_a_layout_and_a_bound() -> None:
    pieces = named([200.0 + 1.7 * number for number in range(patterns.MOST_SIZES + 40)])
    found = cut_list(pieces, 900.0, 1.0)
    assert 0.9 * len(found.sticks) <= found.bound <= len(found.sticks)
    assert sum(map(len, found.sticks)) == len(pieces)


def test_a_search_without_means_is_honest_about_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(patterns, "MOST_WORK", 0)
    monkeypatch.setattr(patterns, "MOST_LISTED", 0)
    monkeypatch.setattr(patterns, "NODES", 0)
    found = cut_list(named([44.0] * 2 + [33.0] * 3 + [12.0] * 6), 132.0)
    assert (len(found.sticks), found.bound, found.optimal) == (3, 2, False)
