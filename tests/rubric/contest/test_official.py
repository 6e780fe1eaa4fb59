"""The official list: efficiency, penalties, ties, tests again and who is not ranked."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.contest.official import Bridge, Reading, official, result_said, standing
from tests.rubric.contest.made import bridge, rules

LIMIT = "weigh in: {mass: 60 g}\n"


def places(more: str, *bridges: Bridge) -> dict[int, int | None]:
    return {r.bridge.number: r.place for r in official(rules(more), bridges)}


def test_efficiency_is_load_over_weight() -> None:
    (result,) = official(rules(), [bridge(1, 50, 196.133)])
    assert result.efficiency == pytest.approx(400)  # 196.133 N / (0.050 kg x 9.80665 m/s2)
    assert (result.place, result.overall, result.level) == (1, 1, False)


def test_the_same_efficiency_as_shown_is_parted_by_the_tie_breaks_in_order() -> None:
    heavy, light, same = bridge(1, 60, 240), bridge(2, 50, 200), bridge(3, 50, 200)
    assert places("ties: [less mass]\n", heavy, light, same) == {2: 1, 3: 1, 1: 3}
    assert places("ties: [more load]\n", heavy, light, same) == {1: 1, 2: 2, 3: 2}
    assert places("ties: [less mass, named earlier]\n", heavy, light, same) == {2: 1, 3: 2, 1: 3}
    assert places("ties: []\n", heavy, light, same) == {1: 1, 2: 1, 3: 1}


def test_a_list_says_which_tie_break_parted_two_and_who_is_level() -> None:
    found = official(rules("ties: [less mass]\n"), [bridge(1, 60, 240), bridge(2, 50, 200), bridge(3, 50, 200)])
    assert [(r.decided_by, r.level) for r in found] == [("less mass", True), ("less mass", True), ("less mass", False)]


def test_being_over_the_mass_costs_its_part_or_the_place() -> None:
    over = bridge(1, 62.5, 250)
    (fined,) = official(rules(LIMIT + "over mass: {free: 1 g, per gram: 2 %}\n"), [over])
    assert (fined.lost, fined.place) == (pytest.approx(0.04), 1)
    assert fined.score == pytest.approx((fined.efficiency or 0) * 0.96)
    (out,) = official(rules(LIMIT), [over])
    assert (out.place, out.why_not) == (None, "over the mass: 62.5 g, and a bridge may have 60 g")
    (far,) = official(rules(LIMIT + "over mass: {out at: 62 g}\n"), [over])
    assert far.why_not == "over the mass: 62.5 g, and from 62 g on none is ranked"


def test_a_reading_that_was_taken_back_does_not_count_and_a_taking_back_can_be_taken_back() -> None:
    rows = [Reading(1, "load", 900), Reading(2, "undo", 0, undoes=1), Reading(3, "load", 90)]
    assert [r.value for r in standing(rows)] == [90]
    assert [r.value for r in standing([*rows, Reading(4, "undo", 0, undoes=2)])] == [900, 90]


@pytest.mark.parametrize(("counts", "load"), [("best", 220), ("last", 180), ("first", 200)])
def test_of_tests_the_one_counts_that_the_rules_say_and_none_beyond_them(counts: str, load: float) -> None:
    one = bridge(1, 50, 200)
    again = [Reading(91, "load", 220), Reading(92, "load", 180), Reading(93, "load", 999)]
    tested = replace(one, readings=(*one.readings, *again))
    (result,) = official(rules(f"retest: {{most: 2, counts: {counts}}}\n"), [tested])
    assert (result.load_N, result.tests) == (load, 3)


def test_who_is_not_ranked_is_told_why() -> None:
    conditions = "entry: [{measure: mechanisms, at most: 0}]\n"
    cheat = bridge(1, 50, 200, measures={"mechanisms": 0.0}, disqualified="nails in the chord")
    moves = bridge(2, 50, 200, measures={"mechanisms": 1.0})
    fine = {"measures": {"mechanisms": 0.0}}
    found = official(rules(conditions), [cheat, moves, bridge(3, None, 9, **fine), bridge(4, 50, None, **fine)])
    assert [r.why_not for r in found] == [
        "disqualified: nails in the chord",
        "not eligible: the number of mechanisms is 1, and at most 0 was asked",
        "not weighed",
        "not tested",
    ]
    assert all(r.place is None for r in found)


def test_each_division_has_its_own_first_place_and_there_is_one_over_all() -> None:
    lines = "divisions: [{name: A}, {name: B}]\n"
    found = official(rules(lines), [bridge(1, 50, 200, division="B"), bridge(2, 50, 100, division="A")])
    assert [(r.bridge.number, r.place, r.overall) for r in found] == [(2, 1, 2), (1, 1, 1)]


def test_the_nearest_prediction_can_be_what_counts() -> None:
    near, far = bridge(1, 50, 190, predicted_N=200), bridge(2, 50, 260, predicted_N=200)
    assert places("rank by: nearest prediction\n", near, far) == {1: 1, 2: 2}


def test_a_result_is_said_in_one_line() -> None:
    (result,) = official(rules(LIMIT + "over mass: {per gram: 2 %}\n"), [bridge(1, 61, 240)])
    assert result_said(result) == "61 g carried 240 N: efficiency 401.2, 2 % off for mass"


numbers = st.tuples(st.floats(5, 200), st.floats(1, 2000), st.booleans())


@given(st.lists(numbers, max_size=30), st.randoms())
def test_the_list_does_not_depend_on_the_order_of_its_rows(
    drawn: list[tuple[float, float, bool]], random: object
) -> None:
    bridges = [bridge(n, m, load, disqualified="x" if out else "") for n, (m, load, out) in enumerate(drawn, 1)]
    shuffled = list(bridges)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert official(rules(), bridges) == official(rules(), shuffled)
    ranked = [r for r in official(rules(), bridges) if r.place is not None]
    for a in ranked:
        assert a.place == 1 + sum((b.place or 0) < (a.place or 0) for b in ranked)
        for b in ranked:
            assert (a.place or 0) >= (b.place or 0) or round(a.score or 0, 1) >= round(b.score or 0, 1)
