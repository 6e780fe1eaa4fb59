"""Rubrics: what a teacher writes, and what is said where it does not fit."""

from __future__ import annotations

import pytest

from rubric import library
from rubric.problems import Refused
from rubric.rubrics import Rubric, read_rubric

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
        "line 3, column 5: found '2*30'; expected a number for the measure 'mass' in g. "
        "To mend it: write for example '50 g'."
    ]


CASES = [
    ("{name: a, kind: treshold, measure: mass, at most: 6 g, points: 5}", "line 3, column 5: found the unknown kind "
     "'treshold'; expected a kind of criterion. To mend it: did you mean 'threshold'?"),
    ("{name: a, measure: mass, at most: 6 g, points: 5}", "line 3, column 5: found no 'kind'; expected the kind of "
     "criterion. To mend it: add a line such as 'kind: threshold'."),
    ("{name: a, kind: threshold, measure: masss, at most: 6 g, points: 5}", "line 3, column 41: found the unknown measure "
     "'masss'; expected a measure of the catalogue. To mend it: did you mean 'mass'?"),
    ("{name: a, kind: threshold, measure: mass, points: 5}", "line 3, column 5: found neither 'at least' nor 'at most'; "
     "expected one of the two. To mend it: write for example 'at least: 1'."),
    ("{name: a, kind: threshold, measure: mass, at least: 1 g, at most: 6 g, points: 5}", "line 3, column 5: found both "
     "'at least' and 'at most'; expected one of the two. To mend it: write for example 'at least: 1'."),
    ("{name: a, kind: threshold, measure: mass, at most: 6 g, points: -5}", "line 3, column 69: found '-5'; expected points "
     "above 0, at most 1000, to 0.01. To mend it: write a plain number."),
    ("{name: a, kind: threshold, measure: mass, at most: 6 g}", "line 3, column 5: found no 'points'; expected the points "
     "it can earn. To mend it: add a line such as 'points: 20'."),
    ("{name: a, kind: scale, measure: mass, earns: {60 g: 5}, points: 5}", "line 3, column 5: found a scale with one "
     "number; expected at least two. To mend it: write for example 'earns: {100: 0, 400: 20}'."),
    ("{name: a, kind: scale, measure: mass, earns: {60 g: 0, 20 g: 5}, points: 5}", "line 3, column 5: found a scale that "
     "runs backwards; expected the measure rising from left to right. To mend it: put the smallest first."),
    ("{name: a, kind: scale, measure: mass, earns: {20 g: 9, 60 g: 0}, points: 5}", "line 3, column 5: found a scale whose "
     "best is 9 points in a criterion of 5 points; expected the two to agree. To mend it: change 'points' or the scale."),
    ("{name: a, kind: scale, measure: mass, earns: 5, points: 5}", "line 3, column 50: found '5'; expected points for at "
     "least two values of the measure. To mend it: write it as 'earns: {100: 0, 400: 20}'."),
    ("{name: a, kind: judgement, points: 5}", "line 3, column 5: found no 'look for'; expected what the teacher looks for. "
     "To mend it: add a line such as 'look for: a clear sketch'."),
    ("{name: a, kind: judgement, look for: x, points: 5, colour: red}", "line 3, column 64: found the unknown key 'colour'; "
     "expected a key of this block. To mend it: use one of 'name', 'points', 'kind', 'look for'."),
    ("just words", "line 3, column 5: found 'just words'; expected a list of criteria. To mend it: write it as 'criteria: "
     "[{name: ..., kind: ..., points: ...}]'."),
]  # fmt: skip


@pytest.mark.parametrize(("line", "said"), CASES, ids=lambda value: value[:40])
def test_a_mistake_in_a_criterion_is_told_in_these_words(line: str, said: str) -> None:
    assert problems(f"{HEAD}  - {line}\n") == [said]


def test_points_that_do_not_add_up_are_told() -> None:
    assert problems(f"out of: 10\n{HEAD}{GOOD}") == [
        "line 1, column 1: found criteria worth 5 points in all under 'out of: 10'; expected the two to agree. "
        "To mend it: change 'out of' or the points of a criterion."
    ]


def test_two_criteria_of_one_name_are_told() -> None:
    assert problems(f"{HEAD}{GOOD}{GOOD}")[0].startswith("line 1, column 1: found two criteria called 'a'")


def test_mistakes_of_several_criteria_are_told_at_once() -> None:
    lines = "".join(f"  - {line}\n" for line, _ in CASES[:6])
    assert len(problems(HEAD + lines)) == 6
