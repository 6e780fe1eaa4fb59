"""What a student reads of each answer: short, plain, with numbers and units."""

from __future__ import annotations

import pytest

from rubric.evidence import Answer
from rubric.wording import figure
from tests.rubric.reading import AGE_12, grade
from tests.worker.working.test_answer_sheets import SHEETS, compared
from worker.truss.reader import read_truss

SAID: dict[str, tuple[str, ...]] = {
    answer.said: (*read.joints, *(member.name for member in read.members))
    for sheet in SHEETS
    for read in [read_truss(sheet.truss.encode())]
    for answer in compared(sheet.truss, sheet.working, **sheet.options)
}


def test_every_sentence_has_a_reading_age_of_12_or_less() -> None:
    for said, names in SAID.items():
        tied = tuple(name for name in names if "-" in name)
        assert grade(said, tied) <= AGE_12, said


def test_each_answer_is_told_in_at_most_three_short_sentences() -> None:
    for said in SAID:
        sentences = said.replace(" .", " 0.").split(". ")
        assert len(sentences) <= 4, said
        assert max(len(sentence.split()) for sentence in sentences) <= 22, said


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_what_is_not_right_is_told_with_what_holds(sheet) -> None:
    for answer in compared(sheet.truss, sheet.working, **sheet.options):
        assert answer.said.endswith(".")
        assert answer.verdict == "right" or _tells_what_holds(answer), answer.said


def _tells_what_holds(answer: Answer) -> bool:
    size, in_kN = figure(abs(answer.true_N)), figure(abs(answer.true_N) / 1000)
    return any(f" {told}" in answer.said for told in (size, in_kN, "T:", "C:", "0:", "0.", "none"))
