"""A class full of work, read by its teachers in German: nothing of the service is said in English."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from rubric.language import Language
from service.records.models import Change
from tests.service.classes.staffs_year import pages
from tests.service.leftovers import leftovers
from tests.service.ready import empty_records, swift
from tests.service.site import founded

Row = tuple[str, str, str, str]
Year = dict[Language, tuple[list[tuple[str, str]], list[Row]]]
"""In each language: the pages in their order, and what the history of marks holds in the end."""

DATA = (
    "Ada Fern", "Ben Holt", "Tess Birch", "Owen Reed", "Otters", "Herons", "Millbrook School", "Weirs", "Weir",
    "Footbridge over the mill stream", "Spring bridges", "Build a bridge of balsa sticks that carries a load hung at "
    "the middle of its deck.", "It stands", "It carries the target load", "It keeps the limits", "Sketch and reasons",
    "It is light for what it carries", "a clear sketch, and a reason for the shape of the truss", "Balsa", "Letter",
    "zebra zoom", "180 kg/m³", "square5", "square3",
)  # fmt: skip
"""Names and titles, what the brief and the rubric say, and a paper."""


@pytest.fixture(scope="module")
def year(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Year]:
    """The same year twice, in two schools."""
    with swift():
        languages: tuple[Language, ...] = ("en", "de")
        yield {language: _lived(tmp_path_factory.mktemp(language), language) for language in languages}


def _lived(folder: Path, language: Language) -> tuple[list[tuple[str, str]], list[Row]]:
    records = empty_records(folder / "kingpost.sqlite")
    with founded(records, folder) as site:
        read = list(pages(site, language))
        with records.read() as session:
            kept = [
                (row.what, row.criterion, row.before, row.after) for row in session.query(Change).order_by(Change.id)
            ]
    records.engine.dispose()
    return read, kept


def test_teachers_of_a_class_full_of_work_find_no_english(year: Year) -> None:
    english, german = year["en"][0], year["de"][0]
    assert [where for where, _ in german] == [where for where, _ in english]
    assert len(german) > 150
    left = [(where, leftovers(first, then, DATA)) for (where, first), (_, then) in zip(english, german, strict=True)]
    assert [(where, texts) for where, texts in left if texts] == []


def test_every_page_of_the_year_is_there(year: Year) -> None:
    lost = [where for where, page in year["en"][0] if 'id="main"' not in page and "said-brief" not in page]
    assert lost == []
    assert [where for where, page in year["en"][0] if "There is no such page" in page] == []


def test_the_history_of_marks_is_kept_alike_whatever_language_its_writers_read(year: Year) -> None:
    english, german = year["en"][1], year["de"][1]
    assert len(english) > 20
    assert german == english
