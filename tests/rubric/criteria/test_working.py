"""The student's own working: shares, parts of a share, and what is said."""

from __future__ import annotations

import pytest

from rubric.criteria.common import CriterionMark, Judged
from rubric.evidence import Answer, Evidence, Verdict
from rubric.marking import mark
from rubric.problems import Refused
from rubric.rubrics import Rubric, read_rubric

STABLE = {"mechanisms": 0.0}


def rubric(line: str = "asks: [reactions, forces]") -> Rubric:
    return read_rubric(f"title: T\ncriteria:\n  - {{name: By hand, kind: working, {line}, points: 20}}\n".encode())


def answers(*verdicts: Verdict) -> tuple[Answer, ...]:
    return tuple(
        Answer(about="force", name=f"a-{number}", given="" if verdict == "left out" else "5 T", given_N=None,
               true_N=5.0, verdict=verdict, said=f"Look at a-{number}.")
        for number, verdict in enumerate(verdicts)
    )  # fmt: skip


def marked(*verdicts: Verdict, line: str = "asks: [reactions, forces]") -> CriterionMark:
    evidence = Evidence(measures=STABLE, working={"By hand": answers(*verdicts)})
    return mark(rubric(line), evidence).criteria[0]


def test_the_points_are_shared_evenly_over_the_answers() -> None:
    found = marked(*["right"] * 7, "follows", "left out")
    assert found.points == round(20 * 8 / 9, 2)
    assert found.seen == "7 of 9 right, 1 follows from an earlier slip, 1 left out"
    assert found.why == "Look at a-8."
    assert found.earn_more == "Start with a-8. Work it out to earn all 20 points."


@pytest.mark.parametrize(
    ("verdict", "key", "usual"),
    [("follows", "follow through", 20), ("rounded", "rounded", 15), ("unit", "unit slip", 10), ("sense", "sense alone", 10)],
)  # fmt: skip
def test_each_kind_of_answer_earns_the_part_that_the_teacher_says(verdict: Verdict, key: str, usual: float) -> None:
    assert marked(verdict).points == usual
    assert marked(verdict, line=f"asks: forces, {key}: 25 %").points == 5


def test_the_first_slip_that_was_written_is_named_before_what_was_left_out() -> None:
    found = marked("right", "left out", "follows", "sense", "wrong")
    assert found.why == "Look at a-3."


def test_a_file_without_working_says_how_to_begin() -> None:
    found = marked("left out", "left out")
    assert (found.points, found.seen, found.why) == (0, "0 of 2 right, 2 left out", "Your file holds no working.")
    assert found.earn_more == "Add a block 'working' to your file to earn all 20 points."


def test_a_mechanism_earns_nothing_and_work_that_was_not_compared_waits() -> None:
    moving = mark(rubric(), Evidence(measures={"mechanisms": 1.0}, working={"By hand": ()}))
    assert (moving.criteria[0].points, moving.waiting) == (0, 0)
    before = mark(rubric(), Evidence(measures=STABLE))
    assert (before.criteria[0].points, before.waiting) == (None, 20)


def test_what_is_asked_is_said_with_its_tolerance() -> None:
    assert rubric("asks: [reactions, forces], or within: 0.5 N").criteria[0].asked == (
        "reactions and forces worked out by hand, each within 2 % or 0.5 N"
    )
    assert rubric("asks: senses").criteria[0].asked == "T, C or 0 for each member worked out by hand"


def test_a_teachers_correction_stands_in_place_of_computed_points_and_leaves_what_was_seen() -> None:
    evidence = Evidence(measures=STABLE, working={"By hand": answers("right", "wrong")})
    given = {"By hand": Judged(points=18, comment="The slip is one of copying.")}
    marks = mark(rubric(), evidence, corrections=given)
    found = marks.criteria[0]
    assert (found.points, marks.total, found.corrected) == (18, 18, True)
    assert (found.why, found.seen) == ("The slip is one of copying.", "1 of 2 right, 1 wrong")
    assert found.earn_more == "Ask your teacher how to earn the other 2 points."


@pytest.mark.parametrize(
    ("asks", "said"),
    [("forcs", "line 3, column 42: found 'forcs'; expected some of reactions, forces, zero members and senses. "
      "To mend it: did you mean 'forces'?"),
     ("[senses, forces]", "line 3, column 36: found 'senses' beside 'forces' or 'zero members'; expected one of the two "
      "ways. To mend it: leave out 'senses': whoever works out forces says T, C or 0 with them."),
     ("[forces, forces]", "line 3, column 36: found the same thing asked for twice; expected each thing once. "
      "To mend it: take one of the two out.")],
)  # fmt: skip
def test_what_cannot_be_asked_is_told(asks: str, said: str) -> None:
    with pytest.raises(Refused) as refused:
        rubric(f"asks: {asks}")
    assert str(refused.value) == said
