"""A published list says why a bridge has no place, to each reader in their language."""

from __future__ import annotations

import pytest
from flask.testing import FlaskClient
from sqlalchemy import text

from service.records.contest_models import Publication
from service.records.models import Person
from tests.service.contest.day import begin, enter, read, stations, typed
from tests.service.contest.test_contest_pages import told
from tests.service.site import Site, post


@pytest.fixture
def public(site: Site) -> tuple[Site, FlaskClient]:
    """A list with a bridge that is out, published by somebody who reads German."""
    enter(site, begin(site)[:2])
    scale, rig = stations(site)
    for number in (1, 2):
        read(site, scale, typed(number, "60"))
        read(site, rig, typed(number, "20", unit="kg"))
    with site.records.write() as session:
        session.get_one(Person, site.ids["Cora Vale"]).language = "de"
    cora, tess = site.signed_in("Cora Vale"), site.signed_in("Tess Birch")
    post(cora, "/staff/entries/2/ruling", what="disqualified", why="Metal in a joint.")
    post(tess, "/staff/entries/1/confirm")
    post(cora, f"/staff/contests/{site.contest}/publish")
    return site, cora


def test_the_public_page_says_it_in_the_language_of_the_reader(public: tuple[Site, FlaskClient]) -> None:
    site, cora = public
    page = f"/contests/{site.contest}/results"
    assert "( disqualified: Metal in a joint. )" in told(site.visitor(), page)
    assert "( ausgeschlossen: Metal in a joint. )" in told(cora, page)


def test_programs_read_one_language_and_the_reason_in_parts(public: tuple[Site, FlaskClient]) -> None:
    site, cora = public
    with site.records.read() as session:
        line = next(one for one in session.query(Publication).one().lines if one["number"] == 2)
    assert line["not ranked"] == "disqualified: Metal in a joint."
    assert line["reason"] == {"what": "disqualified", "why": "Metal in a joint."}
    table = cora.get(f"/staff/contests/{site.contest}/list.csv").data.decode("utf-8-sig")
    assert "reason" not in table.splitlines()[0]


def test_a_list_of_earlier_days_is_no_correction_of_itself(public: tuple[Site, FlaskClient]) -> None:
    site, cora = public
    with site.records.engine.begin() as connection:
        connection.execute(text("DROP TRIGGER contest_publications_update"))
    with site.records.write() as session:
        one = session.query(Publication).one()
        one.lines = [{name: value for name, value in line.items() if name != "reason"} for line in one.lines]
    post(cora, f"/staff/contests/{site.contest}/publish", notice="Noch einmal.")
    with site.records.read() as session:
        assert session.query(Publication).count() == 1
    assert "( disqualified: Metal in a joint. )" in told(site.visitor(), f"/contests/{site.contest}/results")


def test_what_was_asked_about_a_reading_is_told_to_each_reader_in_their_language(site: Site) -> None:
    enter(site, begin(site))
    scale, _ = stations(site)
    with site.records.write() as session:
        session.get_one(Person, site.ids["Cora Vale"]).language = "de"
    cora, tess, page = site.signed_in("Cora Vale"), site.signed_in("Tess Birch"), f"/staff/stations/{scale}"
    sent = {"key": "german-0001", "number": "1", "value": "600", "check": "The span is free", "sure": "yes"}
    assert post(cora, f"{page}/readings", **sent).status_code == 303
    assert "600 g is 510 g over the 90 g that a bridge may have." in told(tess, page)
    assert "600 g is" not in told(cora, page)
