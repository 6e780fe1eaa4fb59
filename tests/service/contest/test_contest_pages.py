"""The pages of a contest: from its rules to the published list, and what the public sees."""

from __future__ import annotations

import json
import re

import pytest
from flask.testing import FlaskClient
from sqlalchemy import text

from rubric.messages.names import AWARD
from rubric.messages.orders import AwardOrder
from service.commands import recompute
from service.contest.recomputing import derivation, differences, lines_again
from service.orders import order_for
from service.privacy.erasing import erase_pupil
from service.records.contest_models import ContestPrint, Publication, SchoolRecord
from service.records.models import Job, Person
from service.sweep import give_up
from tests.service.contest.day import PUPILS, RULES, begin, enter, read, rows, stations, typed
from tests.service.site import Site, post, token

FREE = RULES.replace("2027-03-20", "2090-03-20").replace("2027-03-24", "2090-03-24").replace("2027-03-01", "2020-03-01")


@pytest.fixture
def day(site: Site) -> tuple[Site, int, int]:
    enter(site, begin(site))
    return (site, *stations(site))


def told(client: FlaskClient, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200, answer.text
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.text))


def send(
    client: FlaskClient, station: int, key: str, number: int, value: str, **more: str
) -> tuple[int, dict[str, object]]:
    """A reading as the script sends it."""
    form = {"csrf_token": token(client), "key": key, "number": str(number), "value": value, "check": "The span is free"}
    answer = client.post(
        f"/staff/stations/{station}/readings", data=form | more, headers={"Accept": "application/json"}
    )
    return answer.status_code, json.loads(answer.text)


def test_rules_are_checked_saved_and_said(site: Site) -> None:
    cora, page = site.signed_in("Cora Vale"), f"/staff/contests/{site.contest}/rules"
    assert "The list is ranked by measured efficiency" in told(cora, page)
    wrong = post(cora, page, rules="title: T\nrig: {most: 9}\nties: [les]\n", do="save")
    assert wrong.status_code == 422
    assert "Line 3, column" in wrong.text
    assert post(cora, page, rules=RULES, do="save").status_code == 303
    assert "Every test stops at 400 N." in told(cora, f"/staff/contests/{site.contest}")
    again = post(cora, page, rules=RULES + "entries: 2\n", do="save")
    assert "Say why they change" in again.text
    assert post(cora, page, rules=RULES + "entries: 2\n", do="save", why="More kits came.").status_code == 303
    assert "More kits came." in told(cora, f"/staff/contests/{site.contest}")


def test_a_pupil_enters_an_attempt_and_withdraws_it(site: Site) -> None:
    first, *_ = begin(site, FREE)
    ada, page = site.signed_in("Ada Fern"), f"/attempts/{first}/entry"
    assert "Enter the attempt that you will build" in told(ada, page)
    assert post(ada, page).status_code == 303
    assert "This bridge is entered: number 1" in told(ada, page)
    assert post(ada, "/entries/1/withdraw").status_code == 303
    assert "Number 1 is withdrawn." in told(ada, page)


def test_an_attempt_leads_to_its_entry(site: Site) -> None:
    first, *_ = begin(site, FREE)
    assert f"/attempts/{first}/entry" in site.signed_in("Ada Fern").get(f"/attempts/{first}").text


def test_labels_carry_number_alias_division_and_a_code_and_no_name(day: tuple[Site, int, int]) -> None:
    site, *_ = day
    page = site.signed_in("Cora Vale").get(f"/staff/contests/{site.contest}/labels").text
    assert page.count('class="qr"') == 3
    assert not any(name in page for name in PUPILS)


def test_the_running_order_is_drawn_and_printed(day: tuple[Site, int, int]) -> None:
    site, *_ = day
    cora = site.signed_in("Cora Vale")
    post(cora, f"/staff/contests/{site.contest}/order")
    page = told(cora, f"/staff/contests/{site.contest}/order")
    assert "Classes take turns" in page
    assert not any(name in page for name in PUPILS)


def test_a_load_test_opens_only_with_every_line_confirmed(site: Site) -> None:
    begin(site)
    tess, page = site.signed_in("Tess Birch"), f"/staff/contests/{site.contest}/stations"
    said = told(tess, page)
    for word in (
        "eye protection",
        "line on the floor",
        "catch box",
        "slowly",
        "One adult",
        "400 N",
        "rules of the school",
    ):
        assert word in said
    refused = post(tess, page, kind="load test", name="Rig", safe="Everybody near the rig wears eye protection.")
    assert refused.status_code == 422
    assert "Confirm every line of the safety list first" in refused.text
    lines = re.findall(r'name="safe" value="([^"]+)"', tess.get(page).text)
    form = {"csrf_token": token(tess), "kind": "load test", "name": "Rig", "safe": lines}
    assert tess.post(page, data=form).status_code == 303


def test_a_station_keeps_a_reading_without_any_script(day: tuple[Site, int, int]) -> None:
    site, scale, _ = day
    tess, page = site.signed_in("Tess Birch"), f"/staff/stations/{scale}"
    asked = post(tess, f"{page}/readings", key="no-script-1", number="1", value="600", check="The span is free")
    assert asked.status_code == 422
    assert "Is that right?" in asked.text
    assert 'value="no-script-1"' in asked.text
    kept = post(
        tess, f"{page}/readings", key="no-script-1", number="1", value="600", check="The span is free", sure="yes"
    )
    assert kept.status_code == 303
    said = told(tess, page)
    assert "Kept: number 1, 600 g." in said
    assert "Flagged:" in said
    assert post(tess, "/staff/readings/1/undo", why="One nought too many.").status_code == 303
    assert "taken back" in told(tess, page)


def test_what_the_script_sends_is_kept_once_asked_about_or_refused(day: tuple[Site, int, int]) -> None:
    site, _, rig = day
    tess, owen = site.signed_in("Tess Birch"), site.signed_in("Owen Reed")
    status, said = send(tess, rig, "phone-0001", 1, "20.5", unit="kg")
    assert (status, said["said"]) == (200, "Kept: number 1, 20.5 kg.")
    assert send(tess, rig, "phone-0001", 1, "20.5", unit="kg")[0] == 200
    status, said = send(owen, rig, "phone-0002", 1, "21", unit="kg")
    assert (status, said["taken"]) == (409, True)
    assert "Number 1 was tested already: 20.5 kg, at station 'Rig' by Tess Birch." in str(said["said"])
    assert send(tess, rig, "phone-0003", 2, "300", unit="kg")[0] == 422
    assert len(rows(site)) == 1


def test_a_reading_from_a_signed_out_browser_is_no_json_and_not_kept(day: tuple[Site, int, int]) -> None:
    site, scale, _ = day
    visitor = site.visitor()
    form = {"csrf_token": token(visitor), "key": "phone-0001", "number": "1", "value": "60"}
    answer = visitor.post(f"/staff/stations/{scale}/readings", data=form, headers={"Accept": "application/json"})
    assert answer.status_code == 302
    assert rows(site) == []


def test_the_bridge_that_was_called_is_on_the_board_with_its_drawing_at_the_station(day: tuple[Site, int, int]) -> None:
    site, _, rig = day
    tess = site.signed_in("Tess Birch")
    answer = post(tess, f"/staff/stations/{rig}/call", number="http://host/staff/contests/1/bridges/2")
    page = tess.get(answer.location).text
    assert 'href="#member-0"' in page
    assert 'data-member="0"' in page
    assert "On the rig now 2" in told(site.visitor(), f"/contests/{site.contest}/live/now")


@pytest.fixture
def over(day: tuple[Site, int, int]) -> tuple[Site, FlaskClient]:
    """All bridges tested by one, confirmed by another, and published."""
    site, scale, rig = day
    for number, mass, load in ((1, "60", "20"), (2, "60", "22"), (3, "70", "20")):
        read(site, scale, typed(number, mass))
        read(site, rig, typed(number, load, unit="kg", broke="a-d"))
    cora, tess = site.signed_in("Cora Vale"), site.signed_in("Tess Birch")
    for entry in (1, 2, 3):
        post(tess, f"/staff/entries/{entry}/confirm")
    post(cora, f"/staff/contests/{site.contest}/publish")
    return site, cora


def test_the_public_sees_aliases_and_no_name_and_nothing_before_the_day(over: tuple[Site, FlaskClient]) -> None:
    site, _ = over
    for page in ("live", "live/now", "results"):
        said = told(site.visitor(), f"/contests/{site.contest}/{page}")
        assert not any(name in said for name in PUPILS), page
    assert "3 of 3 bridges tested" in told(site.visitor(), f"/contests/{site.contest}/live")


def test_before_a_station_opens_there_is_no_public_board(site: Site) -> None:
    begin(site)
    for page in ("live", "live/now", "results"):
        assert site.visitor().get(f"/contests/{site.contest}/{page}").status_code == 404


def test_a_correction_stands_above_the_list_for_everybody(over: tuple[Site, FlaskClient]) -> None:
    site, cora = over
    post(cora, "/staff/entries/2/ruling", what="disqualified", why="Nails in a joint.")
    post(cora, f"/staff/contests/{site.contest}/publish", notice="Number 2 had nails.")
    said = told(site.visitor(), f"/contests/{site.contest}/results")
    assert "Corrected" in said
    assert "Number 2 had nails." in said


def test_a_protest_is_noted_and_answered_on_the_list(over: tuple[Site, FlaskClient]) -> None:
    site, cora = over
    post(cora, "/staff/entries/3/protest", text="Loaded too fast.")
    assert "Loaded too fast." in told(cora, f"/staff/contests/{site.contest}/list")
    post(cora, "/staff/protests/1", answer="The film shows 10 s.")
    assert "The film shows 10 s." in told(cora, f"/staff/contests/{site.contest}/list")


def test_every_published_figure_comes_out_again_from_raw_readings(over: tuple[Site, FlaskClient]) -> None:
    site, cora = over
    with site.records.read() as session:
        (first,) = session.query(Publication).all()
        assert differences(session, first) == []
        assert [line["efficiency"] for line in lines_again(session, first)] == pytest.approx(
            [(22 - 0.5) / 0.060, (20 - 0.5) / 0.060, (20 - 0.5) / 0.070]
        )
        steps = list(derivation(session, first, 2))
    assert "22 kg, less tare 0.5 kg" in steps[1]
    post(cora, "/staff/entries/2/ruling", what="disqualified", why="Nails.")  # later: the first list stands as it was
    with site.records.read() as session:
        assert differences(session, session.query(Publication).one()) == []


def test_a_figure_that_was_tampered_with_is_found(
    over: tuple[Site, FlaskClient], capsys: pytest.CaptureFixture[str]
) -> None:
    site, _ = over
    with site.records.engine.begin() as connection:
        connection.execute(text("DROP TRIGGER contest_publications_update"))
        lines = json.loads(connection.execute(text("SELECT lines FROM contest_publications")).scalar_one())
        lines[0]["efficiency"] += 1
        connection.execute(text("UPDATE contest_publications SET lines = :lines"), {"lines": json.dumps(lines)})
    with site.records.read() as session:
        (found,) = differences(session, session.query(Publication).one())
        assert (found.number, found.name) == (2, "efficiency")
        assert recompute._look(session, "Spring bridges", 2) == 1
    assert "list 1, 3 bridges: 1 figures differ" in capsys.readouterr().out


def test_recomputing_says_when_there_is_nothing_to_compute(site: Site, capsys: pytest.CaptureFixture[str]) -> None:
    with site.records.read() as session:
        assert recompute._look(session, "Spring bridges", None) == 2
        assert recompute._look(session, "Autumn bridges", None) == 2
    assert "no contest of that title" in capsys.readouterr().err


def test_everything_is_given_out_and_the_list_as_a_table(over: tuple[Site, FlaskClient]) -> None:
    site, cora = over
    found = json.loads(cora.get(f"/staff/contests/{site.contest}/contest.json").text)
    assert [len(found[name]) for name in ("entries", "readings", "lists", "stations", "rules")] == [3, 6, 1, 2, 1]
    assert found["readings"][1]["means"] == pytest.approx(19.5 * 9.80665)
    table = cora.get(f"/staff/contests/{site.contest}/list.csv").data.decode("utf-8-sig").splitlines()
    assert table[0].startswith("number,alias,division,class,place")
    assert len(table) == 4
    assert not any(name in json.dumps(found) for name in PUPILS)


def test_prediction_and_measurement_is_a_sheet_for_the_class(over: tuple[Site, FlaskClient]) -> None:
    site, cora = over
    said = told(cora, f"/staff/contests/{site.contest}/compared")
    assert "Six bridges or more are needed" in said
    assert "How it broke was noted for no bridge." in said  # readings of earlier days: nothing is made of their place
    assert "Nothing here changes a brief by itself." in said


def test_records_of_earlier_years_are_noted_and_stand_on_the_wall(over: tuple[Site, FlaskClient]) -> None:
    site, cora = over
    address = f"/staff/contests/{site.contest}/records"
    post(cora, address, year="2019", title="Old bridges", alias="Calm Heron", efficiency="x")
    post(cora, address, year="2019", title="Old bridges", alias="Calm Heron", efficiency="412,5")
    assert "Record: 412.5 by Calm Heron , 2019" in told(site.visitor(), f"/contests/{site.contest}/live/now")
    assert "measured load, N" in site.visitor().get(f"/contests/{site.contest}/live/now").text
    with site.records.read() as session:
        assert [one.year for one in session.query(SchoolRecord).order_by(SchoolRecord.year)] == [2019, 2027]


def test_certificates_and_booklet_are_set_of_the_published_list(over: tuple[Site, FlaskClient]) -> None:
    site, cora = over
    for what in ("certificates", "booklet"):
        assert post(cora, f"/staff/contests/{site.contest}/awards", what=what).status_code == 303
        (job,) = site.sender.sent
        with site.records.read() as session:
            order = AwardOrder.model_validate(order_for(session, session.get_one(Job, job.id)))
        assert [bool(line.name) for line in order.lines] == [what == "certificates"] * 3
        assert [line.place for line in order.lines] == [1, 2, 3]
        site.work()
        assert cora.get(f"/staff/contests/{site.contest}/{what}.pdf").data.startswith(b"%PDF-")
    assert "Certificates (PDF)" in told(cora, f"/staff/contests/{site.contest}")


def test_certificates_are_set_for_the_paper_that_is_in_the_printer(over: tuple[Site, FlaskClient]) -> None:
    site, cora = over
    desk = f"/staff/contests/{site.contest}"
    post(cora, f"{desk}/awards", what="certificates", paper="Foolscap")
    assert "Choose the paper: A4 or Letter." in told(cora, desk)
    post(cora, f"{desk}/awards", what="certificates", paper="Letter")
    (job,) = site.sender.sent
    with site.records.read() as session:
        assert order_for(session, session.get_one(Job, job.id))["paper"] == "Letter"
    assert "<option selected>Letter</option>" in cora.get(desk).text


def test_what_cannot_be_set_is_told_to_the_coordinator_and_can_be_asked_for_again(
    over: tuple[Site, FlaskClient],
) -> None:
    site, cora = over
    desk = f"/staff/contests/{site.contest}"
    post(cora, f"{desk}/awards", what="booklet")
    with site.records.write() as session:
        give_up(session, session.query(Job).filter_by(kind=AWARD).one())
    assert "Could not be set. Ask for it again." in told(cora, desk)
    notice = "could not be set: the program stopped three times"
    assert notice in told(cora, "/staff")
    assert notice not in told(site.signed_in("Tess Birch"), "/staff")
    assert post(cora, "/notices/1/settle").status_code == 303
    assert notice not in told(cora, "/staff")
    site.sender.sent.clear()
    post(cora, f"{desk}/awards", what="booklet")
    site.work()
    assert "Booklet (PDF)" in told(cora, desk)


def test_before_a_list_is_published_nothing_is_set(day: tuple[Site, int, int]) -> None:
    site, *_ = day
    cora = site.signed_in("Cora Vale")
    post(cora, f"/staff/contests/{site.contest}/awards", what="booklet")
    assert "Publish the list first" in told(cora, f"/staff/contests/{site.contest}")


def test_certificates_go_with_a_pupil_who_is_deleted(over: tuple[Site, FlaskClient]) -> None:
    site, cora = over
    post(cora, f"/staff/contests/{site.contest}/awards", what="certificates")
    site.work()
    with site.records.write() as session:
        erase_pupil(session, session.get_one(Person, site.ids["Ada Fern"]), None)
    with site.records.read() as session:
        assert session.query(ContestPrint).count() == 0
        assert session.query(Job).filter_by(kind=AWARD).count() == 0


def test_rules_are_checked_while_they_are_typed_with_what_would_change(over: tuple[Site, FlaskClient]) -> None:
    site, cora = over
    page = f"/staff/contests/{site.contest}/rules"
    wrong = post(cora, f"{page}/check", rules=RULES + "ties: [les]\n")
    assert wrong.status_code == 200
    assert 'data-problems="1"' in wrong.text
    assert 'data-line="7"' in wrong.text
    same = post(cora, f"{page}/check", rules=RULES + "# a remark\n")
    assert "They mean what version 1 means." in same.text
    lighter = post(cora, f"{page}/check", rules=RULES.replace("mass: 90 g", "mass: 65 g")).text
    assert "<del>A bridge may have 90 g." in lighter
    assert "<ins>A bridge may have 65 g." in lighter
    assert "1 bridge would stand elsewhere on the list" in lighter
    gone = post(cora, f"{page}/check", rules=RULES + "divisions: [{name: Juniors}]\n").text
    assert "3 entries would stand in a division that is gone: number 1, 2 and 3." in gone
    with site.records.read() as session:
        assert session.query(Publication).count() == 1  # nothing was saved


def test_every_version_of_the_rules_is_kept_and_can_be_started_from(site: Site) -> None:
    cora, page = site.signed_in("Cora Vale"), f"/staff/contests/{site.contest}/rules"
    post(cora, page, rules=RULES, do="save")
    post(cora, page, rules=RULES + "entries: 2\n", do="save", why="More kits came.")
    assert "Version 2" in told(cora, page)
    assert "entries: 2" in cora.get(page).text
    first = cora.get(f"{page}?version=1").text
    assert "entries: 2" not in first
    assert "You may enter 1 bridge." in first
