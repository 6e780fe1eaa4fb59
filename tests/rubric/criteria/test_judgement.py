"""The teacher's own judgement, with levels."""

from __future__ import annotations

from rubric.criteria.common import CriterionMark, Judged
from rubric.evidence import Evidence
from rubric.marking import mark
from tests.rubric.criteria.made import STABLE, rubric

LEVELS = "look for: a clear sketch, levels: [{words: drawn to scale, points: 100 %}, {words: hard to read, points: 4}]"
SKETCH = rubric("judgement", LEVELS)


def judged(points: float, comment: str = "") -> CriterionMark:
    given = {"It": Judged(points=points, comment=comment)}
    return mark(SKETCH, Evidence(measures=STABLE), given).criteria[0]


def test_the_levels_stand_in_what_is_asked() -> None:
    assert SKETCH.criteria[0].asked == "a clear sketch (drawn to scale: 20; hard to read: 4)"


def test_the_words_of_the_level_given_are_said_and_the_comment_with_them() -> None:
    found = judged(4, "Use a ruler.")
    assert (found.points, found.seen, found.why) == (4, "looked at by your teacher: hard to read", "Use a ruler.")
    assert found.earn_more == "Ask your teacher how to earn the other 16 points."


def test_points_between_two_levels_may_be_given() -> None:
    assert (judged(10).points, judged(10).seen) == (10, "looked at by your teacher")
    assert judged(20).earn_more == ""
