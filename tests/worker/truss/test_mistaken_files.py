"""Files with mistakes: what a pupil is told, word for word, and how soon."""

from __future__ import annotations

import json
import time
from contextlib import suppress

import pytest

from rubric import library
from rubric.problems import Refused
from tests.corpus.mistaken import CASES, Case, expected
from worker.commands import solve
from worker.marker import mark_file
from worker.truss.reader import read_truss

SAID = expected()
BRIEF = library.brief("footbridge")
RUBRIC = library.rubric("footbridge")


def test_there_are_at_least_sixty_different_cases_each_with_its_wording() -> None:
    assert len({case.data for case in CASES}) >= 60
    assert [case.name for case in CASES] == list(SAID)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_mistaken_file_is_refused_with_exactly_this_wording_within_a_second(case: Case) -> None:
    began = time.perf_counter()
    with pytest.raises(Refused) as refused:
        read_truss(case.data, BRIEF if case.with_brief else None)
    assert [str(problem) for problem in refused.value.problems] == SAID[case.name]
    assert time.perf_counter() - began < 1


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_marking_a_mistaken_file_gives_an_outcome_with_lines_quoted(case: Case) -> None:
    outcome = mark_file(case.data, BRIEF, RUBRIC)
    assert outcome.mistakes
    assert outcome.marks.total == 0
    assert not outcome.on_board
    json.loads(outcome.model_dump_json())
    assert all(quote.isprintable() or "\t" in quote for quote in (m.quote for m in outcome.mistakes))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_the_command_line_says_the_same_and_exits_with_2(case, tmp_path, capsys) -> None:
    file = tmp_path / "truss.yaml"
    file.write_bytes(case.data)
    status = solve.command([str(file), *(["--brief", "footbridge"] if case.with_brief else [])])
    out, err = capsys.readouterr()
    assert status == 2
    assert out == ""
    assert err.splitlines() == [f"{file}: {line}" for line in SAID[case.name]]


@pytest.mark.parametrize("name", library.brief_names())
def test_every_brief_has_an_answer_to_every_file_with_mistakes(name: str) -> None:
    brief = library.brief(name)
    for each in CASES:
        if each.with_brief:
            with suppress(Refused):  # what is a mistake for one brief may be none for another
                read_truss(each.data, brief)
