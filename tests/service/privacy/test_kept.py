"""The page of privacy and the tables of the database say the same."""

from __future__ import annotations

from collections import Counter

from service.privacy.kept import GROUPS, KEPT
from service.records.models import Base
from tests.service.site import Site


def test_every_column_of_every_table_has_exactly_one_entry() -> None:
    said = Counter((entry.table, column) for entry in KEPT for column in entry.columns)
    there = {(table.name, column.name) for table in Base.metadata.sorted_tables for column in table.columns}
    assert there - set(said) == set(), "add what is new to service/privacy/kept/"
    assert set(said) - there == set(), "take what is gone out of service/privacy/kept/"
    assert max(said.values()) == 1


def test_every_entry_says_what_why_and_how_long_in_whole_sentences() -> None:
    for entry in KEPT:
        assert entry.group in GROUPS
        assert all(text.endswith(".") and text[0].isupper() for text in (entry.what, entry.why, entry.how_long)), entry


def test_the_page_shows_every_entry_to_everybody(site: Site) -> None:
    page = site.visitor().get("/privacy").text
    for entry in KEPT:
        for text in (entry.what, entry.why, entry.how_long):
            assert text.replace("'", "&#39;") in page, text


def test_every_page_links_to_it_in_the_foot(site: Site) -> None:
    for page in ("/sign-in", "/help/truss-file", "/nothing"):
        assert '<a href="/privacy">' in site.visitor().get(page, follow_redirects=True).text.partition("<footer")[2]


def test_the_page_says_the_time_of_keeping_that_the_school_has_set(site: Site) -> None:
    assert "Your school has set no time" in site.visitor().get("/privacy").text
    with site.records.write() as session:
        from service.records.models import School

        session.query(School).one().keep_months = 14
    assert "14 months after a class was last active" in site.visitor().get("/privacy").text
