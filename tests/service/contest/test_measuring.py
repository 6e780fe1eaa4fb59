"""Stations and readings: kept once, asked about once, taken back with a row more."""

from __future__ import annotations

import threading

import pytest
from sqlalchemy import delete, update
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from rubric.language import speaking
from service.contest.complaints import answer, confirm, protest, rule
from service.contest.measuring import Question, Taken, call, open_station, safety_confirmed, safety_list, undo
from service.contest.publishing import publications, publish, records
from service.contest.rulebook import Refusal, in_force
from service.contest.standings import Standings, standings
from service.records.contest_models import DISQUALIFIED, LOAD_TEST, REINSTATED, Entry, Protest, RawReading, Station
from service.records.models import Contest, Person
from tests.service.contest.day import begin, enter, in_session, read, rows, stations, typed
from tests.service.site import Site


@pytest.fixture
def day(site: Site) -> tuple[Site, int, int]:
    """Three entries and two open stations."""
    enter(site, begin(site))
    return (site, *stations(site))


def list_of(site: Site) -> Standings:
    with site.records.read() as session:
        return standings(session, site.contest)


def take_back(site: Site, row: int, why: str, key: str = "undo-0001") -> int:
    return in_session(site, lambda session, who: undo(session, who, session.get_one(RawReading, row), key, why).id)


def test_a_load_test_does_not_open_without_its_safety_list(site: Site) -> None:
    begin(site)
    with pytest.raises(Refusal, match="Confirm every line of the safety list first"):
        in_session(site, lambda session, who: open_station(session, who, site.contest, LOAD_TEST, "Rig", ["Yes"]))


def test_what_was_confirmed_for_safety_is_read_in_the_language_of_its_reader(site: Site) -> None:
    begin(site)

    def opened(session: Session, who: Person) -> Station:
        ticked = safety_list(in_force(session, site.contest)[1])
        assert "Die Prüfung endet bei 400 N, auch wenn die Brücke noch hält." in ticked
        return open_station(session, who, site.contest, LOAD_TEST, "Rig", ticked)

    with speaking("de"):
        made = in_session(site, opened)
    assert "The test stops at 400 N, whatever the bridge still holds." in made.confirmed
    assert safety_confirmed(made) == tuple(made.confirmed)
    with speaking("de"):
        assert "Die Prüfung endet bei 400 N, auch wenn die Brücke noch hält." in safety_confirmed(made)


def test_a_measured_efficiency_comes_from_raw_readings(day: tuple[Site, int, int]) -> None:
    site, scale, rig = day
    read(site, scale, typed(1, "60"))
    read(site, rig, typed(1, "20.5", unit="kg", broke="d-h"))
    first = list_of(site).results[0]
    assert first.load_N == pytest.approx(20 * 9.80665)  # the display shows 0.5 kg with nothing on it
    assert first.efficiency == pytest.approx(20 / 0.060)
    assert [row.values["value"] for row in rows(site)] == [60, 20.5]


def test_a_reading_that_is_sent_twice_is_kept_once(day: tuple[Site, int, int]) -> None:
    site, scale, _ = day
    once = typed(1, "60", key="browser-0001")
    assert read(site, scale, once) == read(site, scale, once)
    assert len(rows(site)) == 1


def test_the_second_of_two_stations_hears_of_the_first_and_leaves_nothing(day: tuple[Site, int, int]) -> None:
    site, _, rig = day
    read(site, rig, typed(2, "20"))
    with pytest.raises(Taken) as refused:
        read(site, rig, typed(2, "21"), by="Tess Birch")
    assert str(refused.value) == (
        "Number 2 was tested already: 20 kg, at station 'Rig' by Cora Vale. Your 21 was not kept. "
        "The rules allow 1 test more, with a reason. If the first is wrong, take it back with a reason."
    )
    assert len(rows(site)) == 1
    assert read(site, rig, typed(2, "21", again="It slipped off its support."))
    with pytest.raises(Taken, match="The rules allow no further test"):
        read(site, rig, typed(2, "22", again="Once more."))


def test_two_stations_at_the_same_instant_give_one_reading(day: tuple[Site, int, int]) -> None:
    site, scale, _ = day
    together, said = threading.Barrier(2), []

    def enter_it(value: str) -> None:
        together.wait()
        try:
            read(site, scale, typed(3, value))
        except Taken as refused:
            said.append(str(refused))

    threads = [threading.Thread(target=enter_it, args=(value,)) for value in ("60", "61")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert (len(rows(site)), len(said)) == (1, 1)


def test_what_is_out_of_range_is_asked_about_once_and_flagged(day: tuple[Site, int, int]) -> None:
    site, scale, _ = day
    with pytest.raises(Question) as asked:
        read(site, scale, typed(1, "600", sure=False))
    assert any("Is a digit or the decimal point out of place?" in doubt for doubt in asked.value.doubts)
    assert rows(site) == []
    read(site, scale, typed(1, "600"))
    assert "over the 90 g" in rows(site)[0].flagged


@pytest.mark.parametrize(
    ("value", "said"), [("6o", "'6o' is no number"), ("0", "cannot be the mass"), ("", "is no number")]
)
def test_what_is_no_mass_is_refused_in_words(day: tuple[Site, int, int], value: str, said: str) -> None:
    site, scale, _ = day
    with pytest.raises(Refusal, match=said):
        read(site, scale, typed(1, value))


@pytest.mark.parametrize("number", ["9", "", "x", "99999999999"])
def test_a_number_that_is_not_there_is_refused(day: tuple[Site, int, int], number: str) -> None:
    site, scale, _ = day
    with pytest.raises(Refusal, match="Read it off its label again"):
        in_session(site, lambda session, _: call(session, session.get_one(Station, scale), number))


def test_a_reading_is_taken_back_by_a_row_more_and_both_stay(day: tuple[Site, int, int]) -> None:
    site, scale, _ = day
    wrong = read(site, scale, typed(1, "66"))
    with pytest.raises(Refusal, match="Write why"):
        take_back(site, wrong, " ")
    take_back(site, wrong, "Typed 66 for 60.")
    with pytest.raises(Refusal, match="taken back already"):
        take_back(site, wrong, "Again.", "undo-0002")
    read(site, scale, typed(1, "60"))
    assert [(row.kind, row.undoes_id) for row in rows(site)] == [("mass", None), ("undo", wrong), ("mass", None)]
    assert {r.bridge.number: r.mass_g for r in list_of(site).results}[1] == 60


def test_the_database_refuses_to_change_or_delete_a_reading(day: tuple[Site, int, int]) -> None:
    site, scale, _ = day
    read(site, scale, typed(1, "60"))
    for statement in (update(RawReading).values(why="x"), delete(RawReading)):
        with pytest.raises(DBAPIError, match="contest readings are kept as they are"), site.records.write() as session:
            session.execute(statement)


def all_tested(site: Site, scale: int, rig: int) -> None:
    for number, mass, load in ((1, "60", "20"), (2, "60", "20"), (3, "70", "20")):
        read(site, scale, typed(number, mass))
        read(site, rig, typed(number, load))


def look(site: Site, *numbers: int, by: str = "Tess Birch") -> None:
    def work(session, who):  # type: ignore[no-untyped-def]
        for number in numbers:
            confirm(session, who, session.query(Entry).filter_by(number=number).one())

    in_session(site, work, by)


def test_a_podium_asks_for_the_eyes_of_another_person(day: tuple[Site, int, int]) -> None:
    site, scale, rig = day
    all_tested(site, scale, rig)
    assert list_of(site).unconfirmed == {1, 2, 3}
    with pytest.raises(Refusal, match="Another person has to look at it"):
        look(site, 1, by="Cora Vale")
    with pytest.raises(Refusal, match="has not looked yet at: 1, 2, 3"):
        in_session(site, lambda session, who: publish(session, who, session.get_one(Contest, site.contest), ""))
    look(site, 1, 2, 3)
    assert list_of(site).unconfirmed == frozenset()


def test_a_list_is_published_and_corrected_with_a_notice(day: tuple[Site, int, int]) -> None:
    site, scale, rig = day
    all_tested(site, scale, rig)
    look(site, 1, 2, 3)

    def out(notice: str = "") -> None:
        in_session(site, lambda session, who: publish(session, who, session.get_one(Contest, site.contest), notice))

    out()
    in_session(
        site,
        lambda session, who: rule(session, who, session.query(Entry).filter_by(number=1).one(), DISQUALIFIED, "Nails."),
    )
    with pytest.raises(Refusal, match="Say what is corrected and why"):
        out()
    out("Number 1 is disqualified.")
    with pytest.raises(Refusal, match="Nothing has changed"):
        out("Once more.")
    with site.records.read() as session:
        first, second = publications(session, site.contest)
        places = [{line["number"]: line["place"] for line in one.lines} for one in (first, second)]
        assert places == [{1: 1, 2: 1, 3: 3}, {1: None, 2: 1, 3: 2}]
        assert second.notice == "Number 1 is disqualified."
        assert [(one.year, one.alias) for one in records(session)] == [(2027, list_of(site).results[0].bridge.alias)]


def test_a_disqualification_has_a_reason_and_can_be_lifted(day: tuple[Site, int, int]) -> None:
    site, scale, rig = day
    all_tested(site, scale, rig)

    def say(what: str, why: str) -> None:
        in_session(
            site, lambda session, who: rule(session, who, session.query(Entry).filter_by(number=3).one(), what, why)
        )

    with pytest.raises(Refusal, match="Write the reason"):
        say(DISQUALIFIED, "")
    say(DISQUALIFIED, "Metal in the chord.")
    assert {r.bridge.number: r.why_not for r in list_of(site).results}[3] == "disqualified: Metal in the chord."
    say(REINSTATED, "It was silver paint.")
    assert list_of(site).results[-1].place == 3
    with pytest.raises(Refusal, match="not disqualified"):
        say(REINSTATED, "Again.")


def test_a_protest_is_answered_before_the_list_goes_out(day: tuple[Site, int, int]) -> None:
    site, scale, rig = day
    all_tested(site, scale, rig)
    look(site, 1, 2, 3)
    found = in_session(
        site, lambda session, who: protest(session, who, session.query(Entry).filter_by(number=2).one(), "Too soon.").id
    )
    with pytest.raises(Refusal, match="A protest about number 2 waits"):
        in_session(site, lambda session, who: publish(session, who, session.get_one(Contest, site.contest), ""))
    in_session(site, lambda session, who: answer(who, session.get_one(Protest, found), "Watched again: in time."))
    in_session(site, lambda session, who: publish(session, who, session.get_one(Contest, site.contest), ""))
