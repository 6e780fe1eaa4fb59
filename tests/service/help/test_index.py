"""The search of the help: what is found, in which order, and what it makes of hostile queries."""

from __future__ import annotations

import pytest

from rubric.brief import Brief
from rubric.criteria import KINDS
from rubric.measures import CATALOGUE
from rubric.shapes import spoken
from service.help.index import MOST_WORDS, Entry, asked, folded, index, search
from service.help.library import tasks
from service.help.made import TITLES
from service.help.made import kinds as kinds_of_criterion


def titles(query: str, language: str = "en") -> list[str]:
    return [entry.title for entry in search(query, language)]


def test_every_task_is_found_by_its_title_before_anything_else() -> None:
    for __, task in tasks().values():
        assert titles(task.title)[0] == task.title


def test_the_beginning_of_a_word_is_enough_and_capitals_and_accents_do_not_matter() -> None:
    assert "Stop buckling" in titles("buck")[:3]
    assert titles("BUCKLING")[0] == titles("bückling")[0] == "Stop buckling"
    assert "Stop buckling" not in titles("uckling")


def test_a_title_comes_before_a_summary_and_a_summary_before_the_text() -> None:
    made = [
        Entry("A weir", "Nothing.", "", "", ""),
        Entry("B", "About weirs.", "", "", ""),
        Entry("C", "", "The weir.", "", ""),
    ]
    assert [one.weight("weir") for one in made] == [4, 2, 1]
    assert made[0].weight("dam") == 0


def test_what_holds_all_words_comes_before_what_holds_some() -> None:
    assert titles("certificates paper")[0] == "Print certificates"
    assert titles("lighter zzzzz")[0] == "Make your bridge lighter"


@pytest.mark.parametrize("name", CATALOGUE)
def test_every_measure_is_found(name: str) -> None:
    assert name in [entry.title for entry in search(name, "en") if entry.endpoint == "help.measures"]


def test_every_kind_of_criterion_and_every_key_of_a_brief_is_found() -> None:
    kinds = [entry for entry in index("en") if entry.endpoint == "help.rubric" and entry.anchor]
    assert len(kinds) == len(KINDS)
    for entry in kinds:
        assert entry in search(entry.title, "en")[:5]
    for field in Brief.model_fields:
        assert spoken(field) in [entry.title for entry in search(spoken(field), "en") if entry.endpoint == "help.brief"]


def test_german_is_searched_in_german() -> None:
    assert titles("knicken", "de")[0] == "Knicken verhindern"
    assert titles("rückmeldeblatt", "de")[0] == titles("ruckmeldeblatt", "de")[0] == "Dein Rückmeldeblatt verstehen"
    assert titles("abgeben", "de")[0] == "Abgeben und Versuche vergleichen"


def test_kinds_of_criterion_and_keys_of_a_brief_are_found_by_german_words() -> None:
    asked_for = {"schwelle": "threshold", "urteil": "judgement", "auflager": "supports", "sägeschnitt": "kerf"}
    assert {word: name for word, name in asked_for.items() if name in titles(word, "de")} == asked_for
    kinds = [entry for entry in index("de") if entry.endpoint == "help.rubric" and entry.anchor]
    assert not {entry.summary.rstrip(".") for entry in kinds} & set(TITLES)
    assert {page.title for page in kinds_of_criterion()} == set(TITLES)


def test_the_index_of_a_language_is_made_once() -> None:
    assert index("de") is index("de")
    assert {entry.title for entry in index("de")} != {entry.title for entry in index("en")}


def test_short_words_count_only_where_there_is_no_longer_one() -> None:
    assert asked("how to write a truss") == ["how", "write", "truss"]
    assert asked("T") == ["t"]
    assert titles("a zzzzz") == []


@pytest.mark.parametrize("query", ["", "   ", "<>&\"'", "\u202e\u2066", "…", "\u0301" * 50, "٪؟"])
def test_a_query_without_words_finds_nothing(query: str) -> None:
    assert search(query, "en") == []


def test_a_query_of_ten_thousand_letters_is_read_no_further_than_its_beginning() -> None:
    assert asked("buckling " * 1200) == ["buckling"]
    assert len(asked(" ".join(f"word{i}" for i in range(2000)))) <= MOST_WORDS
    assert titles("x" * 10_000) == []


def test_words_are_folded() -> None:
    assert folded("Größe, Ångström_und ÉTÉ-2") == ["grosse", "angstrom", "und", "ete", "2"]
