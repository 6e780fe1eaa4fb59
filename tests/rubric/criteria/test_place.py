"""A place in the class or in the contest."""

from __future__ import annotations

import pytest

from rubric.criteria.common import CriterionMark
from rubric.evidence import Evidence, Place
from rubric.marking import mark
from tests.rubric.criteria.made import rubric

RACE = rubric("place", "earns: {1: 20, 2: 16, 10: 0}", "release: by hand\n")


def placed(place: int | None, efficiency: float | None = 300.0, mechanisms: float = 0.0) -> CriterionMark:
    places = {} if place is None else {"It": Place(place=place, of=24)}
    measures = {"mechanisms": mechanisms, "efficiency": efficiency}
    return mark(RACE, Evidence(measures=measures, places=places)).criteria[0]


@pytest.mark.parametrize(("place", "earned"), [(1, 20), (2, 16), (4, 12), (10, 0), (11, 0), (24, 0)])
def test_points_run_in_a_straight_line_between_the_places_listed(place: int, earned: float) -> None:
    assert placed(place).points == earned


def test_a_place_says_how_many_there_are() -> None:
    found = placed(2)
    assert (found.seen, found.why) == ("place 2 of 24 in the class", "That is what this place earns.")
    assert found.asked == "place in the class by efficiency: place 1 earns 20; place 2 earns 16; place 10 earns 0"
    assert found.earn_more == "The higher the efficiency, the better the place."
    assert placed(1).why == "First place!"
    assert placed(12).why == "There are no points behind place 10."


def test_a_place_waits_until_it_is_settled() -> None:
    found = placed(None)
    assert (found.points, found.why) == (None, "Places are settled when your teacher releases the marks.")


def test_a_truss_that_can_move_and_a_file_with_mistakes_have_no_place_to_wait_for() -> None:
    assert placed(None, efficiency=None, mechanisms=1.0).points == 0
    assert mark(RACE, Evidence()).criteria[0].points == 0
