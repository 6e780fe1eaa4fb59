"""Rubric x Measures -> Marks: deterministic, within bounds, adding up as printed."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from rubric import library
from rubric.criteria.common import Judged
from rubric.evidence import Evidence
from rubric.marking import mark
from rubric.measures import CATALOGUE, Measures
from rubric.rubrics import Rubric
from rubric.wording import points

RUBRIC = library.rubric("footbridge")
VALUES = st.none() | st.floats(-1e6, 1e6)
MEASURES = st.fixed_dictionaries(dict.fromkeys(CATALOGUE, VALUES))


@given(MEASURES)
def test_every_mark_lies_between_nothing_and_its_points_and_they_add_up(measures: Measures) -> None:
    marks = mark(RUBRIC, Evidence(measures=measures))
    marked = [criterion for criterion in marks.criteria if criterion.points is not None]
    given_points = [criterion.points for criterion in marked if criterion.points is not None]
    assert all(0 <= earned <= criterion.out_of for earned, criterion in zip(given_points, marked, strict=True))
    assert float(points(marks.total)) == round(sum(float(points(earned)) for earned in given_points), 2)
    assert marks.out_of == 100
    assert marks.waiting == sum(criterion.out_of for criterion in marks.criteria if criterion.points is None) >= 10


@given(MEASURES)
def test_the_same_measures_give_the_same_marks_in_any_order_of_criteria(measures: Measures) -> None:
    turned = Rubric.model_validate(
        {**RUBRIC.model_dump(), "criteria": [c.model_dump() for c in reversed(RUBRIC.criteria)]}
    )
    assert mark(turned, Evidence(measures=measures)).total == mark(RUBRIC, Evidence(measures=measures)).total
    assert mark(RUBRIC, Evidence(measures=measures)) == mark(RUBRIC, Evidence(measures=measures))


@given(st.floats(0, 1e4), st.floats(0, 1e4))
def test_more_efficiency_never_earns_less(one: float, other: float) -> None:
    low, high = sorted((one, other))
    earned = [mark(RUBRIC, Evidence(measures={"efficiency": value})).criteria[3].points for value in (low, high)]
    assert earned[0] is not None
    assert earned[1] is not None
    assert earned[0] <= earned[1]


def test_every_mark_says_what_was_seen_what_was_asked_and_why() -> None:
    marks = mark(
        RUBRIC,
        Evidence(measures={"mechanisms": 0.0, "reserve factor": 0.625, "limits broken": 1.0, "efficiency": 350.0}),
    )
    assert [(c.points, c.seen, c.asked, c.why, c.earn_more) for c in marks.criteria] == [
        (20, "the number of mechanisms is 0", "at most 0", "That is what was asked.", ""),
        (15, "the reserve factor is 0.625", "0.25 earns 0; 1 earns 30", "That lies between 0.25 and 1.",
         "Raise the reserve factor to 1 to earn all 30 points."),
        (0, "the number of limits broken is 1", "at most 0", "That is 1 too high.",
         "Bring down the number of limits broken to 0 to earn 15 points."),
        (12.5, "the efficiency is 350", "100 earns 0; 600 earns 25", "That lies between 100 and 600.",
         "Raise the efficiency to 600 to earn all 25 points."),
        (None, "not yet looked at", "a clear sketch, and a reason for the shape of the truss",
         "Your teacher fills this in.", ""),
    ]  # fmt: skip


def test_a_file_with_mistakes_earns_nothing_yet_and_says_how_to_go_on() -> None:
    first = mark(RUBRIC, Evidence(measures={})).criteria[0]
    assert (first.points, first.seen) == (0, "a file with mistakes")
    assert first.earn_more == "Mend the mistakes in the file first. Then it can earn up to 20 points here."


def test_a_mechanism_has_no_efficiency_to_give_points_for() -> None:
    found = mark(RUBRIC, Evidence(measures={"mechanisms": 1.0, "efficiency": None})).criteria[3]
    assert (found.points, found.seen, found.why) == (0, "no efficiency", "A truss that can move has no efficiency.")


def test_the_teachers_judgement_counts_within_its_points() -> None:
    for given_points, earned in ((7.0, 7.0), (12.0, 10.0), (-3.0, 0.0)):
        marks = mark(
            RUBRIC, Evidence(measures={}), {"Sketch and reasons": Judged(points=given_points, comment="Clear.")}
        )
        assert marks.criteria[4].points == earned
        assert marks.criteria[4].why == "Clear."
        assert marks.waiting == 0


def test_a_threshold_reached_but_for_rounding_noise_is_reached() -> None:
    assert mark(RUBRIC, Evidence(measures={"reserve factor": 1 - 1e-15})).criteria[1].points == 30
