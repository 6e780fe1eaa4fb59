"""All that the demo's students read in our own words is read at the age of 12."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest

from rubric import library
from rubric.by_hand import by_hand
from rubric.messages.outcomes import Marked
from service.demo.school import classes
from tests.rubric.reading import AGE_12, grade
from worker.marker import mark_file

HAND_INS = [
    (one.ready, hand_in.student, hand_in.file_name, hand_in.text) for one in classes() for hand_in in one.hand_ins
]


@cache
def outcome(ready: str, text: str) -> Marked:
    return mark_file(text.encode(), library.brief(ready), library.rubric(ready))


def texts(found: Marked) -> Iterator[str]:
    """What is said, in pieces as they are read: a paragraph, a step, a row."""
    yield from found.praise
    yield from (f"{step.title.rstrip('.')}. {step.text}" for step in found.steps)
    yield from (one.text for one in found.findings)
    yield from (f"{one.mend.rstrip('.')}." for one in found.mistakes)
    yield from (f"{row.why} {row.earn_more}" for row in found.marks.criteria)
    yield from (line.said for one in by_hand(found.working) for line in one.lines if line.said)
    if found.analysis:
        yield from (*found.analysis.limits_broken, *found.analysis.warnings)
    if found.told:
        told = found.told
        parts = (told.first, told.why, told.check, told.supports, told.failing)
        yield from (" ".join(part.says) for part in parts if part.says)
        yield from (*told.then, told.signs)
        yield from (one.text for one in told.pictures)


def names(found: Marked) -> tuple[str, ...]:
    if found.analysis is None:
        return ()
    rows = found.analysis.members
    return (*(row.name for row in rows), *{row.stick for row in rows})


@pytest.mark.parametrize(("ready", "student", "file", "text"), HAND_INS, ids=[f"{h[1]}-{h[2]}" for h in HAND_INS])
def test_what_a_student_of_the_demo_reads_is_read_at_twelve(ready: str, student: str, file: str, text: str) -> None:
    found = outcome(ready, text)
    hard = {said: round(grade(said, names(found)), 1) for said in texts(found) if said.strip()}
    assert {said: age for said, age in hard.items() if age > AGE_12} == {}
