"""Small charts of plain numbers, and the axis and the heap that they stand on."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric.drawing import palette
from rubric.drawing.axis import axis
from rubric.drawing.charts import attempts, bars, spread
from rubric.drawing.heap import heaped
from rubric.drawing.histogram import counted_in, histogram
from rubric.drawing.sticks import sticks
from rubric.messages.outcomes import CutStick, Figure, StickNeed
from service.drawings import drawing_fault
from tests.worker.feedback import seen

VALUES = st.floats(0, 1e6).filter(lambda value: value == 0 or value > 1e-3)
LAYOUT = (
    CutStick(pieces=(("a-b side 1", 300.0), ("c-d side 2", 20.0)), left_mm=577.0),
    CutStick(pieces=(("b-c side 1", 850.0),), left_mm=48.0),
)


def cut() -> Figure:
    need = StickNeed(stick="square5", needed=2, in_kit=4, fits=True, layout=LAYOUT)
    return sticks([need], {"square5": 900.0})


CHARTS = {
    "attempts": attempts([12, None, 31.5, 28, 44], "points", most=60),
    "no attempt": attempts([], "points"),
    "thirty attempts": attempts([float(7 * i % 31) for i in range(30)], "efficiency"),
    "spread": spread([30, 30, 31, 42, 55, 12], "points", own=42, most=60),
    "nobody": spread([], "points", most=60),
    "bars": bars([("Kestrel", 842.1), ("y" * 80, 613.2), ("<b>&", 612), ("مفصل", 0)], "efficiency", own=1),
    "histogram": histogram([0, 9.5, 10, 55, 55.5, 100, 100], "points", most=100),
    "histogram of nobody": histogram([], "points", most=60, wide=345.0),
    "sticks": cut(),
}


@pytest.mark.parametrize("name", CHARTS)
def test_a_chart_may_stand_on_a_page_and_is_told_in_words(name: str) -> None:
    figure = CHARTS[name]
    assert drawing_fault(figure.svg) is None
    assert list(seen.root(figure))[1].text == figure.alternative
    assert list(seen.cut_off(figure)) == []


@pytest.mark.parametrize("name", [name for name in CHARTS if name != "sticks"])
def test_no_word_of_a_chart_lies_on_another_or_on_a_dot(name: str) -> None:
    assert [said for said in seen.collisions(CHARTS[name]) if not said.endswith("on a line")] == []


def test_attempts_are_told_with_their_numbers_and_the_best_is_full() -> None:
    figure = CHARTS["attempts"]
    assert "attempt 2: none yet, attempt 3: 31.5" in figure.alternative
    full = [dot for dot in seen.all_of(figure, "circle") if dot.get("fill") == palette.MOVEMENT]
    assert len(full) == 1
    assert {"12", "31.5", "28", "44"} <= set(seen.words_of(figure))


def test_a_line_over_an_attempt_that_earned_nothing_is_dashed() -> None:
    legs = [line for line in seen.all_of(CHARTS["attempts"], "line") if line.get("stroke") == palette.MOVEMENT]
    assert [leg.get("stroke-dasharray") for leg in legs] == [palette.DASHES, None, None]


def test_a_class_has_one_dot_each_and_ones_own_is_named() -> None:
    figure = CHARTS["spread"]
    assert len(seen.all_of(figure, "circle")) == 6
    assert "you" in seen.words_of(figure)
    assert "the middle 30.5" in figure.alternative


def test_bars_are_as_long_as_their_numbers() -> None:
    wide = [
        float(bar.get("width", 0)) for bar in seen.all_of(bars([("a", 10), ("b", 5), ("c", 2.5)], "efficiency"), "rect")
    ]
    assert wide[0] == pytest.approx(2 * wide[1], rel=0.01)
    assert wide[1] == pytest.approx(2 * wide[2], rel=0.01)


def test_pieces_of_a_stick_are_as_long_as_they_are_cut_and_stand_apart_by_the_saw() -> None:
    boxes = seen.all_of(cut(), "rect")
    stick, first, second = (float(box.get("width", 0)) for box in boxes[:3])
    assert first / stick == pytest.approx(300 / 900, abs=1e-3)
    assert second / stick == pytest.approx(20 / 900, abs=1e-3)
    gap = float(boxes[2].get("x", 0)) - float(boxes[1].get("x", 0)) - first
    assert gap / stick == pytest.approx(1.5 / 900, abs=3e-4)


def test_a_piece_without_room_for_a_word_is_counted() -> None:
    assert "1 piece had no room for a word in this drawing." in seen.words_of(cut())
    assert "c-d side 2 20 mm" in cut().alternative


def test_a_kit_without_layout_gives_no_drawing() -> None:
    assert sticks([StickNeed(stick="square5", needed=2, in_kit=4, fits=True)], {"square5": 900.0}) is None


@given(st.lists(VALUES, max_size=30), st.booleans())
@settings(deadline=None)
def test_an_axis_holds_all_values_between_few_round_ticks(values: list[float], nought: bool) -> None:
    scale = axis(values, 10, 110, 7, nought)
    for value in values:
        assert 10 - 1e-6 <= scale.place(value) <= 110 + 1e-6
    assert 2 <= len(scale.ticks) <= 8
    assert float(f"{scale.step:.0e}"[0]) in (1, 2, 5)


@given(st.lists(st.floats(0, 400), max_size=60))
@settings(deadline=None)
def test_heaped_dots_stand_at_their_place_and_never_on_each_other(places: list[float]) -> None:
    centres, radius = heaped(places, (5.0, 3.6, 2.6), 84)
    assert [x for x, _ in centres] == places
    assert all(math.dist(a, b) > 1.9 * radius for a, b in combinations(centres, 2))


@given(st.lists(st.one_of(st.none(), VALUES), max_size=25), st.lists(VALUES, max_size=40))
@settings(deadline=None, max_examples=40)
def test_any_numbers_give_charts_that_may_stand_on_a_page(tried: list[float | None], reached: list[float]) -> None:
    for figure in (attempts(tried, "points"), spread(reached, "points"), bars([("x", v) for v in reached], "points")):
        assert drawing_fault(figure.svg) is None


def test_a_histogram_counts_a_border_upwards_and_the_highest_to_the_last() -> None:
    scale = axis([0, 100], 0, 10, 11)
    assert counted_in(scale, [0, 9.99, 10, 10, 99, 100]) == [2, 2, 0, 0, 0, 0, 0, 0, 0, 2]
    figure = CHARTS["histogram"]
    assert "2 from 0 to 10, 1 from 10 to 20, 2 from 50 to 60, 2 from 90 to 100." in figure.alternative
    assert [said for said in seen.words_of(figure) if said in ("1", "2")] == ["2", "1", "2", "2"]


@given(
    st.lists(st.integers(-200, 800).map(lambda quarters: quarters / 4), min_size=1),
    st.sampled_from([None, 10.0, 60.0, 100.0]),
)
@settings(max_examples=100)
def test_every_value_stands_in_one_bar_of_a_histogram(values: list[float], most: float | None) -> None:
    scale = axis([*values, 0.0, *([most] if most else [])], 0, 300, 11)
    assert sum(counted_in(scale, values)) == len(values)
    assert list(seen.cut_off(histogram(values, "points", most, 345.0))) == []
