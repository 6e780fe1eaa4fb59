"""How a bridge broke is noted at the rig, kept, shown and set beside what was predicted."""

from __future__ import annotations

import json

import pytest

from service.contest.lesson import lesson
from service.contest.measuring import Refusal
from service.contest.standings import standings
from service.records.models import Person
from tests.service.contest.day import begin, enter, read, rows, stations, typed
from tests.service.contest.test_contest_pages import told
from tests.service.site import Site


@pytest.fixture
def rig(site: Site) -> tuple[Site, int]:
    """Three bridges weighed, and the rig."""
    enter(site, begin(site))
    scale, load_test = stations(site)
    for number in (1, 2, 3):
        read(site, scale, typed(number, "60"))
    return site, load_test


def test_what_was_seen_is_kept_as_it_was_chosen(rig: tuple[Site, int]) -> None:
    site, load_test = rig
    read(site, load_test, typed(1, "20", broke="a-d", how="pulled apart"))
    assert [rows(site)[-1].values[name] for name in ("broke", "how")] == ["a-d", "pulled apart"]


def test_a_way_that_is_not_on_the_list_is_refused(rig: tuple[Site, int]) -> None:
    site, load_test = rig
    with pytest.raises(Refusal, match="'vanished' is no way to break that is on the list"):
        read(site, load_test, typed(1, "20", how="vanished"))


def test_a_station_numbers_the_ways_and_offers_members_and_joints(rig: tuple[Site, int]) -> None:
    site, load_test = rig
    page = site.signed_in("Tess Birch").get(f"/staff/stations/{load_test}?number=1").text
    assert '<option value="buckled sideways">2 a stick buckled sideways</option>' in page
    assert '<option value="a" data-joint>joint a</option>' in page


def test_what_was_seen_is_shown_wherever_the_bridge_is_listed(rig: tuple[Site, int]) -> None:
    site, load_test = rig
    read(site, load_test, typed(1, "20", broke="a-d", how="buckled sideways"))
    read(site, load_test, typed(2, "20"))  # as readings of earlier days are: without a way
    tess, contest = site.signed_in("Tess Birch"), f"/staff/contests/{site.contest}"
    for page in (f"/staff/stations/{load_test}", f"{contest}/bridges/1", f"{contest}/list"):
        assert "How it broke: a stick buckled sideways, a-d ." in told(tess, page), page
    assert "How it broke: not noted ." in told(tess, f"{contest}/bridges/2")


def test_somebody_who_reads_german_reads_of_it_in_german(rig: tuple[Site, int]) -> None:
    site, load_test = rig
    read(site, load_test, typed(1, "20", broke="a", how="joint came off"))
    with site.records.write() as session:
        session.get_one(Person, site.ids["Tess Birch"]).language = "de"
    said = told(site.signed_in("Tess Birch"), f"/staff/stations/{load_test}")
    assert "Wie sie brach: ein Knoten abgelöst, Knoten a ." in said


def test_files_give_out_what_was_seen_in_the_words_that_are_kept(rig: tuple[Site, int]) -> None:
    site, load_test = rig
    read(site, load_test, typed(1, "20", broke="a-d", how="crushed"))
    tess, contest = site.signed_in("Tess Birch"), f"/staff/contests/{site.contest}"
    heading, *lines = tess.get(f"{contest}/list.csv").data.decode("utf-8-sig").splitlines()
    assert heading.endswith(",broke at,how it broke")
    assert sorted(line.split(",")[-2:] for line in lines) == [["", ""], ["", ""], ["a-d", "crushed"]]
    found = json.loads(tess.get(f"{contest}/contest.json").text)
    assert [one["values"]["how"] for one in found["readings"] if one["kind"] == "load"] == ["crushed"]


def test_the_prediction_is_held_against_what_was_seen_and_never_against_a_guess(rig: tuple[Site, int]) -> None:
    site, load_test = rig
    with site.records.read() as session:
        first = standings(session, site.contest).entries[1].predicted
    assert (first["member"], first["mode"], first["axis"]) == ("a-d", "buckling", "in plane")
    read(site, load_test, typed(1, "20", broke="a", how="buckled sideways"))
    read(site, load_test, typed(2, "20", broke="a-d", how="crushed"))
    read(site, load_test, typed(3, "20", broke="a-d"))
    with site.records.read() as session:
        found = lesson(standings(session, site.contest))
    assert (len(found.tested), len(found.told), len(found.as_predicted), found.not_noted) == (3, 2, 1, 1)
    assert [(row.seen, row.so, row.there) for row in found.by_mode] == [(2, 1, 2)]
    said = told(site.signed_in("Tess Birch"), f"/staff/contests/{site.contest}/compared")
    assert "How it broke was seen for 2 bridges. In 1 of them it was the way" in said
    assert "For 1 bridge it is not noted." in said


def test_a_bridge_that_held_to_the_end_is_counted_apart(rig: tuple[Site, int]) -> None:
    site, load_test = rig
    read(site, load_test, typed(1, "20", how="did not break"))
    said = told(site.signed_in("Tess Birch"), f"/staff/contests/{site.contest}/compared")
    assert "How it broke was noted for no bridge. 1 bridge did not break." in said
