"""The plot of predicted and measured loads."""

from __future__ import annotations

import re

import pytest

from rubric.contest.factor import class_factor
from rubric.drawing.agreement import Dot, agreement
from service.drawings import drawing_fault
from tests.worker.feedback import seen


def dots(count: int, factor: float) -> list[Dot]:
    return [Dot(n, 80.0 + 7 * n, factor * (80.0 + 7 * n) * (1 + 0.1 * (n % 3 - 1))) for n in range(1, count + 1)]


@pytest.mark.parametrize(("count", "factor"), [(0, 1.0), (1, 0.5), (40, 0.8), (40, 1.6)])
def test_the_plot_may_stand_on_a_page_and_is_told_in_words(count: int, factor: float) -> None:
    made = dots(count, factor)
    figure = agreement(made, class_factor([(dot.predicted_N, dot.measured_N) for dot in made]))
    assert drawing_fault(figure.svg) is None
    assert list(seen.cut_off(figure)) == []
    assert figure.svg.count("<circle") == count


def test_it_says_how_many_carried_what_was_predicted_and_the_middle() -> None:
    made = dots(40, 0.8)
    said = agreement(made, class_factor([(dot.predicted_N, dot.measured_N) for dot in made])).alternative
    assert said.startswith("40 bridges, measured load over predicted load. 0 carried what was predicted or more")
    assert "0.8 times the prediction" in said


def test_a_band_that_leaves_at_the_top_and_at_the_side_goes_around_the_corner() -> None:
    made = [Dot(n, 100.0 * n, 100.0 * n * (0.7 + 0.2 * (n % 3))) for n in range(1, 21)]
    svg = agreement(made, class_factor([(dot.predicted_N, dot.measured_N) for dot in made])).svg
    band = next(one for one in re.findall(r'<polygon points="([^"]+)"', svg) if " " in one)
    places = [tuple(map(float, pair.split(","))) for pair in band.split()]
    assert len(places) == 4
    assert (max(x for x, _ in places), min(y for _, y in places)) in places
