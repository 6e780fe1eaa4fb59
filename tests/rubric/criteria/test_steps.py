"""Steps: bands with words."""

from __future__ import annotations

import pytest

from tests.rubric.criteria.made import first, rubric

HEAVY = "{from: 0, words: still heavy, points: 0}, {from: 300, words: light, points: 50 %}"
LIGHT = rubric("steps", f"measure: efficiency, bands: [{HEAVY}, {{from: 600, words: very light, points: 20}}]")


@pytest.mark.parametrize(
    ("value", "earned"), [(-5.0, 0), (0.0, 0), (299.9, 0), (300.0, 10), (599.0, 10), (600.0, 20), (1e5, 20)]
)
def test_a_band_holds_from_where_it_begins_to_where_the_next_does(value: float, earned: float) -> None:
    assert first(LIGHT, efficiency=value).points == earned


def test_a_band_reached_but_for_rounding_noise_is_reached() -> None:
    assert first(LIGHT, efficiency=600 * (1 - 1e-15)).points == 20


def test_the_words_of_the_band_say_why_and_the_nearest_best_band_is_the_goal() -> None:
    found = first(LIGHT, efficiency=350.0)
    assert found.asked == "still heavy, from 0, earns 0; light, from 300, earns 10; very light, from 600, earns 20"
    assert (found.seen, found.why) == ("the efficiency is 350", "That counts as 'light'.")
    assert found.earn_more == "Raise the efficiency to 600 to earn all 20 points."


def test_where_less_is_better_the_goal_lies_below_the_next_band() -> None:
    bands = "[{from: 0 g, words: light, points: 20}, {from: 50 g, words: heavy, points: 0}]"
    found = first(rubric("steps", f"measure: mass, bands: {bands}"), mass=61.0)
    assert (found.points, found.earn_more) == (0, "Bring down the mass below 50 g to earn all 20 points.")


def test_a_mechanism_has_no_band() -> None:
    found = first(LIGHT, mechanisms=1.0)
    assert (found.points, found.why) == (0, "A truss that can move has no efficiency.")
