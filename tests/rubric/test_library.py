"""The ready briefs and rubrics: each pair loads, marks and is explained."""

from __future__ import annotations

import pytest

from rubric import library
from rubric.criteria.working import Working
from rubric.evidence import Answer, Evidence, Place
from rubric.marking import mark
from rubric.rubrics import Rubric

NAMES = library.rubric_names()


def test_every_ready_brief_has_its_rubric_and_every_age_is_served() -> None:
    assert library.brief_names() == NAMES
    ages = {library.brief(name).age for name in NAMES}
    assert {"10 to 12", "13 to 15", "16 to 18"} <= ages
    assert len(NAMES) >= 5


def full(rubric: Rubric) -> Evidence:
    """Evidence of work that could not be better by half of the measures, and middling by the others."""
    measures = {"mechanisms": 0.0, "reserve factor": 1.2, "limits broken": 0.0, "efficiency": 500.0, "stability factor": 3.0,
                "largest utilisation": 0.83, "midspan deflection": 2.0, "share of par": 0.4, "distinct lengths": 3.0}  # fmt: skip
    right = Answer(about="force", name="a-b", given="5 N T", given_N=5, true_N=5, verdict="right", said="Right.")
    asked = {c.name: (right,) for c in rubric.criteria if isinstance(c, Working)}
    places = {c.name: Place(place=1, of=9) for c in rubric.criteria if c.kind == "place"}
    return Evidence(measures=dict(measures), working=asked, places=places)


@pytest.mark.parametrize("name", NAMES)
def test_a_ready_rubric_marks_and_explains_every_criterion(name: str) -> None:
    rubric = library.rubric(name)
    marks = mark(rubric, full(rubric))
    assert 0.4 * rubric.full < marks.total <= rubric.reachable
    for row in marks.criteria:
        assert row.seen
        assert row.asked
        assert row.why.endswith((".", "!"))
        assert bool(row.earn_more) == (row.points is not None and row.points < row.out_of)
    assert sum(row.points is None for row in marks.criteria) == sum(c.kind == "judgement" for c in rubric.criteria)


@pytest.mark.parametrize("name", NAMES)
def test_a_ready_rubric_gives_nothing_for_a_file_with_mistakes(name: str) -> None:
    marks = mark(library.rubric(name), Evidence())
    assert (marks.total, marks.rules) == (0, ())
