"""Rubrics: what a teacher writes, and what is said where it does not fit."""

from __future__ import annotations

import pytest

from rubric import library
from rubric.problems import Refused
from rubric.rubrics import Rubric, read_rubric
from tests.corpus import mistaken_rubrics

HEAD = "title: T\ncriteria:\n"
GOOD = "  - {name: a, kind: threshold, measure: mass, at most: 60 g, points: 5}\n"


def problems(text: str) -> list[str]:
    with pytest.raises(Refused) as refused:
        read_rubric(text.encode())
    return [str(problem) for problem in refused.value.problems]


@pytest.mark.parametrize("name", library.rubric_names())
def test_a_ready_rubric_survives_the_journey_as_json(name: str) -> None:
    rubric = library.rubric(name)
    assert Rubric.model_validate_json(rubric.model_dump_json()) == rubric


def test_a_rubric_holds_no_code_and_no_formula() -> None:
    said = problems(f"{HEAD}  - {{name: a, kind: threshold, measure: mass, at most: 2*30, points: 5}}\n")
    assert said == [
        "line 3, column 56: found '2*30'; expected a number for the measure 'mass' in g. "
        "To mend it: write for example '50 g'."
    ]


@pytest.mark.parametrize("name", mistaken_rubrics.CASES)
def test_a_mistake_of_a_teacher_is_told_in_these_words(name: str) -> None:
    with pytest.raises(Refused) as refused:
        read_rubric(mistaken_rubrics.CASES[name])
    assert [str(problem) for problem in refused.value.problems] == mistaken_rubrics.expected()[name]


def test_mistakes_of_several_criteria_are_told_at_once() -> None:
    bad = ["{name: a, kind: treshold, points: 5}", "{name: b, points: 5}", "{name: c, kind: judgement, points: 5}"]
    lines = "".join(f"  - {line}\n" for line in bad)
    assert len(problems(HEAD + lines)) == 3
