"""Texts in the language of whoever reads them."""

from __future__ import annotations

import ast
import re
from io import BytesIO
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po

from rubric.language import LANGUAGES, _, as_language, counted, speaking, spoken

TOP = Path(__file__).parents[2]
FLOORS = ("rubric", "worker", "service")
METHODS = [("**.py", "python"), ("**.html", "jinja2")]
KEYWORDS = {"_": None, "counted": (1, 2), "later": None}
BRACES = re.compile(r"\{[^{}]*\}")


def texts_of(floor: str) -> set[str | tuple[str, ...]]:
    """All texts that the code of a floor marks."""
    options = {"**.html": {"trim_blocks": "true", "lstrip_blocks": "true"}}
    found = extract_from_dir(TOP / floor, METHODS, options, keywords=KEYWORDS)
    return {message[2] for message in found}


def written_in(floor: str) -> set[str | tuple[str, ...]]:
    """All texts that stand in calls of the three, as Python itself reads them."""
    calls = [
        node
        for file in (TOP / floor).rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text("utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in KEYWORDS
    ]
    texts = [
        tuple(one.value for one in call.args[:2] if isinstance(one, ast.Constant) and isinstance(one.value, str))
        for call in calls
    ]
    return {text if len(text) > 1 else text[0] for text in texts if text}


def catalogue_of(language: str, floor: str) -> Catalog:
    """The catalogue as it is written."""
    return read_po(BytesIO((TOP / "rubric" / "locale" / language / f"{floor}.po").read_bytes()), locale=language)


def forms(message: Message) -> tuple[str, ...]:
    """Singular and plural, or the one form."""
    return message.string if isinstance(message.string, tuple) else (message.string,)


@pytest.mark.parametrize("floor", FLOORS)
def test_each_text_of_the_code_is_said_in_german(floor):
    said = {message.id: forms(message) for message in catalogue_of("de", floor) if message.id and not message.fuzzy}
    wanting = [text for text in texts_of(floor) if text and not all(said.get(text, ("",)))]
    assert wanting == []


@pytest.mark.parametrize("floor", FLOORS)
def test_no_text_stands_where_the_extraction_misses_it(floor):
    assert sorted(map(str, written_in(floor) - texts_of(floor))) == []  # within an f-string, or deep within a call


@pytest.mark.parametrize("floor", FLOORS)
def test_a_translation_has_the_values_of_its_text(floor):
    for message in catalogue_of("de", floor):
        if not message.id:
            continue
        asked = message.id if isinstance(message.id, tuple) else (message.id,)
        values = {brace for text in asked for brace in BRACES.findall(text)}
        for form in forms(message):
            assert set(BRACES.findall(form)) <= values, message.id
        assert set(BRACES.findall(forms(message)[-1])) == set(BRACES.findall(asked[-1])), message.id


def test_a_text_is_said_alike_on_every_floor():
    said: dict[str, set[tuple[str, ...]]] = {}
    for floor in FLOORS:
        for message in catalogue_of("de", floor):
            said.setdefault(str(message.id), set()).add(forms(message))
    assert [text for text, ways in said.items() if text and len(ways) > 1] == []


def test_english_is_said_where_nobody_asks_for_another_language():
    assert spoken() == "en"
    assert _("{count} words", count=3) == "3 words"
    assert counted("{count} word", "{count} words", 1) == "1 word"


def test_a_text_that_nobody_translated_is_said_in_english():
    with speaking("de"):
        assert _("zyx {name}", name="heron") == "zyx heron"
        assert counted("{count} zyx", "{count} zyxes", 2) == "2 zyxes"
    assert spoken() == "en"


def test_a_language_is_found_by_its_code():
    assert [as_language(code) for code in ("de", "de-AT", "DE", "fr", "", None)] == ["de", "de", "de", "en", "en", "en"]
    assert list(LANGUAGES) == ["en", "de"]
