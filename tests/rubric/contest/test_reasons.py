"""Why a bridge is not ranked: the same values in each language."""

from __future__ import annotations

import json

import pytest

from rubric.contest.official import Bridge, official
from rubric.contest.reasons import NOT_ELIGIBLE, TEXTS, Reason, reason_of
from rubric.language import speaking
from tests.rubric.contest.made import bridge, rules

HEAVY = bridge(1, 62.5, 250)
CASES = [
    ("entry: [{measure: mass, at most: 60 g}]\n", bridge(1, 50, 90, measures={"mass": 61.5}), "not eligible: the mass is 61.5 g, and at most 60 g was asked"),
    ("entry: [{measure: reserve factor, at least: 1}]\n", bridge(1, 50, 90), "not eligible: there is no reserve factor to look at"),
    ("weigh in: {mass: 60 g}\n", HEAVY, "over the mass: 62.5 g, and a bridge may have 60 g"),
    ("weigh in: {mass: 60 g}\nover mass: {out at: 62 g}\n", HEAVY, "over the mass: 62.5 g, and from 62 g on none is ranked"),
    ("rank by: nearest prediction\n", bridge(1, 50, 90), "no load was predicted for it"),
    ("", bridge(1, 50, 90, disqualified="Metal {in} a joint."), "disqualified: Metal {in} a joint."),
    ("", bridge(1, None, 90), "not weighed"),
    ("", bridge(1, 50, None), "not tested"),
]  # fmt: skip


@pytest.mark.parametrize(("more", "one", "said"), CASES)
def test_a_reason_that_was_kept_says_what_it_said(more: str, one: Bridge, said: str) -> None:
    (result,) = official(rules(more), [one])
    assert result.reason is not None
    kept = json.loads(json.dumps(result.reason.kept))
    assert reason_of({"not ranked": "", "reason": kept}) == result.why_not == said


def test_each_reader_reads_it_in_their_own_language_and_the_coordinators_words_as_they_are() -> None:
    kept = {"what": "disqualified", "why": "Metal in a joint."}
    with speaking("de"):
        assert reason_of({"not ranked": "", "reason": kept}) == "ausgeschlossen: Metal in a joint."
        assert str(Reason("over the mass", {"mass": 62.5, "limit": 60})).startswith("zu schwer: 62,5 g")


def test_a_list_of_earlier_days_says_what_it_holds() -> None:
    assert reason_of({"not ranked": "not weighed"}) == "not weighed"
    assert reason_of({"not ranked": "not weighed", "reason": {"what": "of later days"}}) == "not weighed"
    assert NOT_ELIGIBLE not in TEXTS
