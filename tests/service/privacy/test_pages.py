"""Deleting on the web: only what was typed, by whoever may, and a record of it."""

from __future__ import annotations

from datetime import datetime

import pytest

from service.privacy.years import label, year_of
from service.records.acts import Act
from service.records.models import Assignment, Person, School, SchoolClass, Submission
from tests.service.site import Site, post

OWN, TEACHER, COORDINATOR = "Ada Fern", "Tess Birch", "Cora Vale"


def count(site: Site, table: type) -> int:
    with site.records.read() as session:
        return int(session.query(table).count())


def test_a_teacher_deletes_a_pupil_by_typing_the_name(site: Site) -> None:
    site.hand_in(site.signed_in(OWN))
    teacher, page = site.signed_in(TEACHER), f"/staff/students/{site.ids[OWN]}/delete"
    assert "1 attempt with files" in teacher.get(page).text
    answer = post(teacher, page, typed=" ada  fern ")
    assert (answer.status_code, answer.location) == (303, "/staff/classes/1")
    assert count(site, Submission) == 0
    with site.records.read() as session:
        assert session.get(Person, site.ids[OWN]) is None
    assert teacher.get(page).status_code == 404


@pytest.mark.parametrize("typed", ["", "Ada", "Ben Holt", "8B"])
def test_anything_else_typed_deletes_nothing(site: Site, typed: str) -> None:
    before = count(site, Person)
    answer = post(site.signed_in(TEACHER), f"/staff/students/{site.ids[OWN]}/delete", typed=typed)
    assert answer.status_code == 422
    assert "Nothing was deleted." in answer.text
    assert count(site, Person) == before


def test_a_pupil_who_was_deleted_is_signed_out_and_cannot_come_back(site: Site) -> None:
    ada = site.signed_in(OWN)
    post(site.signed_in(TEACHER), f"/staff/students/{site.ids[OWN]}/delete", typed=OWN)
    assert ada.get("/desk").location == "/sign-in"
    one = site.secrets[OWN]
    assert post(site.visitor(), "/sign-in", class_code="8B", passphrase=one.secret).status_code == 403


def test_only_a_coordinator_deletes_a_class_and_by_its_code(site: Site) -> None:
    page = "/staff/classes/1/delete"
    assert post(site.signed_in(TEACHER), page, typed="8B").status_code == 403
    cora = site.signed_in(COORDINATOR)
    assert post(cora, page, typed="9C").status_code == 422
    assert count(site, SchoolClass) == 2
    assert post(cora, page, typed="8b").status_code == 303
    assert (count(site, SchoolClass), count(site, Assignment)) == (1, 1)
    for address in ("/staff", "/staff/office", "/staff/office/keeping", "/staff/office/record", "/boards/contests/1"):
        assert cora.get(address).status_code == 200, address


def test_a_school_year_goes_as_a_whole(site: Site) -> None:
    with site.records.write() as session:
        for one in session.query(SchoolClass):
            one.made_at = datetime(2031, 9, 1)
    cora = site.signed_in(COORDINATOR)
    assert "Last active in 2031/32" in cora.get("/staff/office/keeping").text
    page = "/staff/office/years/2031/delete"
    assert "Otters" in cora.get(page).text
    assert post(cora, page, typed="2030/31").status_code == 422
    assert post(cora, page, typed="2031/32").status_code == 303
    assert (count(site, SchoolClass), count(site, Assignment)) == (0, 0)
    with site.records.read() as session:
        assert {person.role for person in session.query(Person)} == {"teacher", "coordinator"}
        words = [one.word for one in session.query(Act).filter_by(what="class deleted")]
    assert words == ["with the year 2031/32"] * 2


def test_a_school_year_begins_in_the_month_that_was_set_by_the_school_clock() -> None:
    assert year_of(datetime(2027, 7, 31, 23, 30), "UTC", 8) == 2026
    assert year_of(datetime(2027, 7, 31, 23, 30), "Europe/Lisbon", 8) == 2027
    assert year_of(datetime(2027, 1, 5), "UTC", 1) == 2027
    assert (label(2026, 8), label(2099, 8), label(2027, 1)) == ("2026/27", "2099/00", "2027")


@pytest.mark.parametrize(("months", "kept"), [("14", 14), ("", None), (" 3 ", 3)])
def test_the_coordinator_sets_the_time_of_keeping(site: Site, months: str, kept: int | None) -> None:
    answer = post(site.signed_in(COORDINATOR), "/staff/office/keeping", months=months, begins="2")
    assert answer.status_code == 303
    with site.records.read() as session:
        school = session.query(School).one()
        assert (school.keep_months, school.year_begins) == (kept, 2)
        assert session.query(Act).one().what == "time of keeping"


@pytest.mark.parametrize(("months", "begins"), [("2", "8"), ("121", "8"), ("x", "8"), ("12", "0"), ("12", "13"), ("-5", "8"), ("²", "8")])  # fmt: skip
def test_a_time_that_is_none_is_refused_with_the_bounds(site: Site, months: str, begins: str) -> None:
    answer = post(site.signed_in(COORDINATOR), "/staff/office/keeping", months=months, begins=begins)
    assert answer.status_code == 422
    assert "3 to 120 months" in answer.text or "Choose the month" in answer.text
    assert count(site, Act) == 0
