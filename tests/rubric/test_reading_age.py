"""What a pupil reads in our own words is read at the age of 12."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from rubric import library
from rubric.criteria.common import Judged
from rubric.criteria.say import Say
from rubric.evidence import Evidence
from rubric.marking import Marks, mark
from rubric.measures import CATALOGUE
from rubric.rubrics import Rubric
from tests.rubric.reading import AGE_12, grade, plain
from tests.rubric.rubrics_made import evidences, rubrics
from tests.rubric.test_library import full


def texts(made: Rubric, marks: Marks) -> list[str]:
    """Everything that marking says, as sentences: what was seen and asked, why, how to go on, what rules did."""
    rows = [f"{row.seen}. {row.asked.replace(';', '.')}. {row.why} {row.earn_more}" for row in marks.criteria]
    return [*rows, *marks.rules, *made.rules]


@settings(max_examples=200)
@given(rubrics(), evidences())
def test_what_marking_says_of_any_work_is_read_at_twelve(made: Rubric, evidence: Evidence) -> None:
    ours = made.model_copy(update={"criteria": tuple(c.model_copy(update={"say": Say()}) for c in made.criteria)})
    for text in texts(ours, mark(ours, evidence)):
        assert grade(text) <= AGE_12, text


@pytest.mark.parametrize("name", library.rubric_names())
def test_what_a_ready_rubric_says_is_read_at_twelve(name: str) -> None:
    rubric = library.rubric(name)
    judged = {c.name: Judged(points=0) for c in rubric.criteria if c.kind == "judgement"}
    moving = Evidence(measures={"mechanisms": 1.0, "limits broken": 2.0}, minutes_late=2000)
    for evidence in (Evidence(), moving, full(rubric)):
        for text in texts(rubric, mark(rubric, evidence, judged)):
            assert grade(text, tuple(c.name for c in rubric.criteria)) <= AGE_12, text


@pytest.mark.parametrize("name", CATALOGUE)
def test_what_a_measure_means_is_read_at_twelve(name: str) -> None:
    assert grade(CATALOGUE[name].meaning) <= AGE_12


def test_the_grade_tells_hard_words_from_easy_ones_and_takes_names_and_numbers_out() -> None:
    assert grade("Look again. It is too long.") < 2
    assert grade("Statical indeterminacy necessitates compatibility considerations.") > 20
    assert plain("The midspan deflection is 12.5 mm. Efficiency: 1,200.", ("Efficiency",)) == "it is 6. it: 6."
