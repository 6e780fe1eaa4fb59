"""Outcomes in German: no English sentence is left of what a student reads, and every number is as in English."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from pydantic import BaseModel

from rubric import library
from rubric.brief import TRAVELLING, Brief
from rubric.language import Language, speaking
from rubric.problems import Refused
from rubric.rubrics import read_rubric
from tests.corpus.mistaken import CASES
from tests.corpus.mistaken import G as GOOD
from tests.worker.advice.test_halving import STRONG
from tests.worker.advice.test_steady import DECK_IN_LINE, IN_LINE
from tests.worker.advice.test_steady import GIRDER as LONG
from tests.worker.test_problem_sets import RIGHT
from tests.worker.working.test_answer_sheets import SHEETS, compared
from worker.marker import mark_file
from worker.sketching import look
from worker.truss.reader import read_truss

ENGLISH = re.compile(
    r"\b(the|and|of|is|are|its?|your?|you|this|that|with|from|not|joints?|members?|no)\b", re.IGNORECASE
)
RUBRIC = read_rubric(
    b"title: Steg\ncriteria:\n  - {name: Last, kind: threshold, measure: reserve factor, at least: 1, points: 10}\n"
    b"  - {name: Rechnung, kind: working, asks: [reactions, forces, zero members], points: 20}\n"
)
FOOTBRIDGE = library.brief("footbridge")
FREE = FOOTBRIDGE.model_copy(update={"limits": FOOTBRIDGE.limits.__class__()})
PROBLEM = library.brief("forces-by-hand")
WRONG = """working:
  reactions: {a: 45 down, d: 4.59 up}
  forces: {a-b: 50 C, b-c: 0, c-d: 30 T, a-e: 75 T, e-f: 60.5 T, f-d: C, e-b: 0.045 T, f-c: 90 T, e-c: 3 T}
"""


def brief(**more: object) -> Brief:
    return FREE.model_copy(update=more)


def load(places: object) -> object:
    return FREE.load.model_copy(update={"places": places})


SQUARES = LONG.replace("  d-c: square5\n", "").replace("  f-c: square5\n", "")
CROSSING = "joints: {a: [0, 0], m: [300, 0], b: [600, 0], t: [300, 150]}\nmembers: {a-b: square5, a-t: square5, t-b: square5, t-m: square5}\n"
FILES: dict[str, tuple[str, Brief]] = {
    "typical": (LONG, FREE),
    "limits broken": (GOOD, FOOTBRIDGE),
    "two struts braced": (STRONG, FREE),
    "redundant": (LONG + "  b-e: square3\n", FREE),
    "a load that travels": (LONG, brief(load=load(TRAVELLING))),
    "stiff joints": (LONG, brief(joints="rigid")),
    "where to look alone": (SQUARES, brief(advice="where to look")),
    "mechanism": (GOOD.replace("  b-d: square3\n", ""), FREE),
    "moves in two ways": (SQUARES, FREE),
    "critical form": (IN_LINE, FREE),
    "critical form on the deck": (DECK_IN_LINE, FREE),
    "a member across a joint": (CROSSING, FREE),
    "working": (GOOD + "working: {reactions: {a: 50 up}, forces: {a-b: 50 T, a-d: 60 C, b-d: 9 T}}\n", FREE),
    "problem set, right": (RIGHT.decode(), PROBLEM),
    "problem set, wrong": (WRONG, PROBLEM),
    **{f"mistaken: {each.name}": (each.data.decode("latin-1"), FOOTBRIDGE) for each in CASES if each.with_brief},
}


def said_in(language: Language, work: Callable[[], Any]) -> Any:
    with speaking(language):
        return work()


def leaves(value: object, path: str = "") -> Iterator[tuple[str, object]]:
    """Every plain value with its place, without words for programs and the student's own line of a mistake."""
    if isinstance(value, BaseModel):
        value = value.model_dump()
    if isinstance(value, dict):
        for key, each in value.items():
            if key not in ("quote", "svg", "fingerprint", "mode", "modes"):
                yield from leaves(each, f"{path}.{key}")
    elif isinstance(value, (list, tuple)):
        for index, each in enumerate(value):
            yield from leaves(each, f"{path}.{index}")
    else:
        yield path, value


def english(value: object) -> list[str]:
    """Texts with an English word, what stands in quotes apart: that is written in a file."""
    texts = [(path, text) for path, text in leaves(value) if isinstance(text, str)]
    return [f"{path}: {text}" for path, text in texts if ENGLISH.search(re.sub(r"'[^']*'?", "", text))]


def numbers(value: object) -> list[tuple[str, object]]:
    """What is no text, in its place."""
    return [(path, "" if isinstance(each, str) else each) for path, each in leaves(value)]


@pytest.mark.parametrize("name", FILES)
def test_an_outcome_in_german_has_no_english_left_and_the_same_numbers(name: str) -> None:
    text, asked = FILES[name]

    def marked() -> object:
        return mark_file(text.encode("latin-1"), asked, RUBRIC, par_g=20.0)

    first, german, again = (said_in(language, marked) for language in ("en", "de", "en"))
    assert len(english(first)) >= (1 if name.startswith("mistaken") else 5)
    assert english(german) == []
    assert numbers(german) == numbers(first)
    assert again == first


@pytest.mark.parametrize("name", ["typical", "mechanism", "critical form", "a member across a joint", "limits broken"])
def test_a_sketch_in_german_has_no_english_left_and_the_same_numbers(name: str) -> None:
    text, asked = FILES[name]
    first, german = (said_in(language, lambda: look(text.encode(), asked)) for language in ("en", "de"))
    assert english(first)
    assert english(german) == []
    assert numbers(german) == numbers(first)


@pytest.mark.parametrize("case", [each for each in CASES if not each.with_brief], ids=lambda each: each.name)
def test_a_file_that_stands_alone_is_mended_in_german(case: Any) -> None:
    with speaking("de"), pytest.raises(Refused) as refused:
        read_truss(case.data)
    with speaking("de"):
        said = [str(problem) for problem in refused.value.problems]
    assert said
    assert english(said) == []


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_working_is_compared_alike_in_german(sheet: Any) -> None:
    first, german = (
        said_in(language, lambda: compared(sheet.truss, sheet.working, **sheet.options)) for language in ("en", "de")
    )
    assert [each.model_copy(update={"said": ""}) for each in german] == [
        each.model_copy(update={"said": ""}) for each in first
    ]
    assert english([each.said for each in german]) == []
