"""Marks in German: every sentence that a student reads, and the same points."""

from __future__ import annotations

import re

import pytest

from rubric.by_hand import by_hand
from rubric.drawing import charts
from rubric.evidence import Answer, Evidence, Place
from rubric.language import Language, speaking
from rubric.marking import Marks, mark
from rubric.rubrics import read_rubric

RUBRIC = read_rubric(
    b"""
title: Steg
release: by hand
entry:
  - {measure: mechanisms, at most: 0, if not: cap at 40.5 points}
  - {measure: limits broken, at most: 0, if not: off the board}
  - {measure: mass, at most: 80 g, if not: zero}
lateness: {grace: 10 min, per hour: 2.5 %, most: 30 %}
attempts: {most: 5, counts: best, wait: 10 min}
round to: 0.5
least: 2
most: 90
criteria:
  - {name: A, kind: threshold, measure: reserve factor, at least: 1, points: 10}
  - {name: B, kind: threshold, measure: midspan deflection, at most: 3 mm, points: 5, bonus: yes}
  - {name: C, kind: scale, measure: efficiency, earns: {100: 0, 600: 12.5}, points: 12.5}
  - {name: D, kind: steps, measure: largest utilisation, points: 5,
     bands: [{from: 0 %, words: leer, points: 1}, {from: 50 %, words: gut, points: 5}, {from: 100 %, words: voll,
     points: 0}]}
  - {name: E, kind: share of par, full at: 60 %, points: 10}
  - {name: F, kind: count, of: joints, at most: 12, each takes: 2, points: 10}
  - {name: G, kind: count, of: members, exactly: 20, points: 5, deduct: yes}
  - {name: H, kind: place, among: class, by: efficiency, earns: {1: 10, 5: 0}, points: 10}
  - {name: I, kind: place, among: contest, by: efficiency, earns: {1: 10, 5: 0}, points: 10}
  - {name: J, kind: working, asks: [reactions, forces, zero members], or within: 0.5 N, points: 20}
  - {name: K, kind: working, asks: senses, points: 20}
  - {name: L, kind: judgement, look for: eine Skizze, points: 5}
"""
)
MEASURES = {"mechanisms": 0.0, "limits broken": 1.0, "mass": 48.2, "reserve factor": 0.83, "midspan deflection": 3.5,
            "efficiency": 312.4, "largest utilisation": 1.2, "share of par": 0.3, "joints": 14.0,
            "members": 19.0}  # fmt: skip
ANSWERS = tuple(
    Answer(about="reaction", name=f"a {axis}", given=given, given_N=None, true_N=4.5, verdict=verdict, said="")
    for axis, given, verdict in [("x", "3", "wrong"), ("y", "4", "rounded"), ("y", "", "left out"), ("x", "5", "sense"),
                                 ("y", "4", "follows"), ("x", "4", "unit")]
)  # fmt: skip
SEEN = [
    Evidence(),
    Evidence(measures={"mechanisms": 2.0}),
    Evidence(measures=MEASURES, working={"J": ANSWERS, "K": ()}, minutes_late=1500.0),
    Evidence(
        measures=MEASURES | {"mass": 90.0, "joints": 3.0}, places={"H": Place(place=1, of=9), "I": Place(place=7, of=9)}
    ),
    Evidence(measures={"mechanisms": 0.0, "mass": 48.2}),
]
ENGLISH = re.compile(r"\b(the|and|of|is|your|that|not|to|points?|be|has|no)\b", re.IGNORECASE)


def marked(evidence: Evidence, language: Language) -> Marks:
    with speaking(language):
        return mark(RUBRIC, evidence)


def texts(evidence: Evidence, language: Language) -> list[str]:
    marks = marked(evidence, language)
    with speaking(language):
        each = [(one.seen, one.asked, one.why, one.earn_more, one.of) for one in marks.criteria]
    return [*(text for row in each for text in row), *marks.rules]


@pytest.mark.parametrize("evidence", SEEN)
def test_no_english_is_left_in_a_mark(evidence: Evidence) -> None:
    assert ENGLISH.search(" ".join(texts(evidence, "en")))
    assert [text for text in texts(evidence, "de") if ENGLISH.search(text)] == []


@pytest.mark.parametrize("evidence", SEEN)
def test_a_mark_is_worth_the_same_in_every_language(evidence: Evidence) -> None:
    english, german = marked(evidence, "en"), marked(evidence, "de")
    assert [one.points for one in english.criteria] == [one.points for one in german.criteria]
    assert (english.total, english.on_board, english.waiting) == (german.total, german.on_board, german.waiting)


def test_the_rules_of_a_rubric_are_said_in_german_with_its_decimal_sign() -> None:
    with speaking("de"):
        said = " ".join(RUBRIC.rules)
        worth = [criterion.worth for criterion in RUBRIC.criteria[:3]]
    assert not ENGLISH.search(said)
    assert "mehr als 40,5 Punkte" in said
    assert "2,5 % deiner Punkte" in said
    assert worth == ["10", "5 (Bonus)", "12,5"]


def test_a_rubric_means_the_same_in_whatever_language_it_is_read() -> None:
    with speaking("de"):
        entry, lateness = RUBRIC.entry[0], RUBRIC.lateness
        assert entry.cap == 40.5
        assert lateness is not None
        assert lateness.cost(60, 100) == 2.5


def test_drawings_are_read_out_in_german() -> None:
    with speaking("de"):
        drawn = [
            charts.attempts([12.5, None, 20.0], "Punkte", most=30.0),
            charts.spread([1.5, 2.0, 7.0], "Punkte", own=2.0),
            charts.bars([("Fuchs", 2.5), ("Igel", 1.0)], "Effizienz", own=1),
        ]
    for figure in drawn:
        assert not ENGLISH.search(figure.alternative)
    assert "12,5" in drawn[0].svg
    assert all('="1,' not in figure.svg for figure in drawn)


def test_working_by_hand_is_laid_out_in_german_and_compared_alike() -> None:
    with speaking("de"):
        (told,) = by_hand({"J": ANSWERS})
    assert [line.verdict for line in told.lines[:3]] == ["Nicht richtig", "Zu stark gerundet", "Ausgelassen"]
    assert [line.name for line in told.slips] == ["Auflager a, waagerecht", "Auflager a, nach oben",
                                                  "Auflager a, waagerecht", "Auflager a, waagerecht"]  # fmt: skip
    assert told.left_out == ("Auflager a, nach oben",)
    assert told.lines[0].holds == "4,5 N nach rechts"
