"""Every answer sheet gets the mark that its argument gives."""

from __future__ import annotations

import pytest

from rubric.criteria.working import Working as Criterion
from rubric.evidence import Answer, Evidence
from tests.worker.working import sheets_alone, sheets_following
from tests.worker.working.sheets import AnswerSheet
from worker.statics import solve
from worker.truss.reader import read_truss
from worker.working import compare

SHEETS = (*sheets_alone.SHEETS, *sheets_following.SHEETS)


def criterion(**options: object) -> Criterion:
    """Reactions and forces for 20 points, where ``options`` do not say otherwise."""
    usual = {"name": "By hand", "kind": "working", "asks": ["reactions", "forces"], "points": 20}
    return Criterion.model_validate(usual | options)


def compared(truss: str, working: str, **options: object) -> tuple[Answer, ...]:
    read = read_truss(f"{truss}working: {working}\n".encode())
    return compare(read, solve(read), criterion(**options))


def test_there_are_at_least_twenty_five_sheets_each_with_its_argument() -> None:
    assert len({(sheet.truss, sheet.working, str(sheet.options)) for sheet in SHEETS}) >= 25
    assert len({sheet.because for sheet in SHEETS}) == len(SHEETS)


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_an_answer_sheet_gets_its_fair_mark(sheet: AnswerSheet) -> None:
    answers = compared(sheet.truss, sheet.working, **sheet.options)
    found = {answer.name: answer.verdict for answer in answers if answer.verdict != "right"}
    assert found == sheet.not_right, sheet.because
    mark = criterion(**sheet.options).mark(Evidence(measures={"members": 1.0}, working={"By hand": answers}), {})
    assert mark.points == pytest.approx(sheet.points), sheet.because
    assert any(sheet.told in answer.said for answer in answers)
