"""Rubric x Evidence -> Marks: deterministic, within bounds, adding up as printed."""

from __future__ import annotations

import re
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from rubric import library
from rubric.criteria.common import Judged
from rubric.evidence import Evidence
from rubric.marking import mark
from rubric.rubrics import Rubric
from rubric.wording import points
from tests.rubric.rubrics_made import evidences, rubrics

RUBRIC = library.rubric("footbridge")


@given(rubrics(), evidences())
def test_every_mark_lies_within_its_bounds(made: Rubric, evidence: Evidence) -> None:
    marks = mark(made, evidence)
    for criterion, row in zip(made.criteria, marks.criteria, strict=True):
        low, high = criterion.bounds
        assert row.points is None or low <= row.points <= high
    low, high = made.bounds
    assert low <= marks.total <= high
    assert marks.out_of == made.full


@given(rubrics(), evidences())
def test_points_and_rules_add_up_to_the_total_as_they_are_printed(made: Rubric, evidence: Evidence) -> None:
    marks = mark(made, evidence)
    printed = sum(Decimal(points(row.points)) for row in marks.criteria if row.points is not None)
    for said in marks.rules:
        change = re.match(r"(Plus|Minus) ([0-9.]+) points?: ", said)
        printed += 0 if change is None else Decimal(change[2]) * (1 if change[1] == "Plus" else -1)
    assert printed == Decimal(points(marks.total))


@given(rubrics(), evidences())
def test_the_order_of_the_criteria_does_not_matter(made: Rubric, evidence: Evidence) -> None:
    turned = made.model_copy(update={"criteria": tuple(reversed(made.criteria))})
    there, back = mark(made, evidence), mark(turned, evidence)
    assert (back.total, back.rules, back.waiting, back.on_board) == (
        there.total,
        there.rules,
        there.waiting,
        there.on_board,
    )
    assert back.criteria == tuple(reversed(there.criteria))


@given(rubrics(), evidences())
def test_the_same_input_gives_the_same_bytes_after_any_journey_as_json(made: Rubric, evidence: Evidence) -> None:
    there = mark(made, evidence).model_dump_json()
    travelled = Rubric.model_validate_json(made.model_dump_json())
    assert mark(travelled, Evidence.model_validate_json(evidence.model_dump_json())).model_dump_json() == there


def test_a_thousand_times_the_same_input_gives_the_same_bytes() -> None:
    evidence = Evidence(measures={"mechanisms": 0.0, "reserve factor": 0.7, "limits broken": 1.0, "efficiency": 333.3})
    assert len({mark(RUBRIC, evidence).model_dump_json() for _ in range(1000)}) == 1


@given(rubrics(), evidences(), st.lists(st.floats(-50, 50), min_size=6, max_size=6))
def test_a_correction_stays_within_the_bounds_and_touches_no_other_criterion(
    made: Rubric, evidence: Evidence, given_points: list[float]
) -> None:
    first = made.criteria[0]
    plain = mark(made, evidence)
    marks = mark(made, evidence, corrections={first.name: Judged(points=given_points[0], comment="Why.")})
    assert first.bounds[0] <= (marks.criteria[0].points or 0.0) <= first.bounds[1]
    assert (marks.criteria[0].corrected, marks.criteria[0].why) == (True, "Why.")
    assert marks.criteria[1:] == plain.criteria[1:]


RISING = [
    {"kind": "threshold", "measure": "efficiency", "at least": 300},
    {"kind": "scale", "measure": "efficiency", "earns": {100: 0, 200: 4, 600: 10}},
    {"kind": "scale", "measure": "efficiency", "earns": {100: 0, 600: 10}, "deduct": "yes"},
    {"kind": "share of par", "measure": "share of par", "full at": 0.5},
    {"kind": "steps", "measure": "efficiency", "bands": [
        {"from": 0, "words": "heavy", "points": 0}, {"from": 200, "words": "light", "points": 10}]},
    {"kind": "count", "measure": "joints", "of": "joints", "at most": 12, "each takes": 3},
]  # fmt: skip


@given(st.sampled_from(RISING), st.floats(0, 1000), st.floats(0, 1000))
def test_a_better_measure_never_earns_less_where_the_rubric_rises(
    keys: dict[str, object], one: float, other: float
) -> None:
    measure = str(keys["measure"])
    worse, better = sorted((one, other), reverse=measure == "joints")
    own = {
        key: value for key, value in keys.items() if key != "measure" or keys["kind"] not in ("share of par", "count")
    }
    made = Rubric.model_validate(
        {
            "title": "T",
            "criteria": [
                {"name": "x", "kind": "judgement", "look for": "y", "points": 1},
                {"name": "It", "points": 10, **own},
            ],
        }
    )
    earned = [
        mark(made, Evidence(measures={"mechanisms": 0.0, measure: value})).criteria[1].points
        for value in (worse, better)
    ]
    assert None not in earned
    assert earned == sorted(earned, key=float)


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
