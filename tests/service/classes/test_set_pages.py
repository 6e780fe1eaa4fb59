"""Setting work on the web, changing its dates, and a date for one student."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from flask.testing import FlaskClient

from rubric import library
from service.people import enrol
from service.records.models import Assignment, Contest, Extension, Submission, now
from tests.service.site import Site, post

BRIEF, RUBRIC = library.brief_text("footbridge").decode(), library.rubric_text("footbridge").decode()
FORM = {"title": "", "brief": BRIEF, "rubric": RUBRIC, "opens": "", "due": "2030-03-15T16:00", "release": "at once"}
SET = "/staff/classes/1/set"
LATE_RUBRIC = RUBRIC + "lateness: {per day: 10 %, most: 30 %}\n"


@pytest.fixture
def teacher(site: Site) -> FlaskClient:
    return site.signed_in("Tess Birch")


def newest(site: Site) -> Assignment:
    with site.records.read() as session:
        found = session.query(Assignment).order_by(Assignment.id.desc()).first()
        assert found is not None
        assert found.newest.number
        return found


def test_a_teacher_finds_the_form_from_the_class(site: Site, teacher: FlaskClient) -> None:
    assert f'href="{SET}"' in teacher.get("/staff").text
    page = teacher.get(SET).text
    assert "the ready brief “footbridge”" in page
    assert "Otters: Footbridge over the mill stream" in page
    assert "Herons" not in page


def test_ready_texts_are_put_in_and_nothing_is_set_by_it(site: Site, teacher: FlaskClient) -> None:
    before = newest(site).id
    chosen = {"do": "start", "brief-from": "ready/footbridge", "rubric-from": str(site.assignment)}
    page = post(teacher, SET, **chosen)
    assert page.status_code == 200
    assert "The brief can be read." in page.text
    assert "The rubric can be read." in page.text
    assert newest(site).id == before


def test_the_work_of_a_class_of_somebody_else_is_not_put_in(site: Site, teacher: FlaskClient) -> None:
    with site.records.write() as session:
        session.get_one(Assignment, site.other_assignment).title = "Secret work"
    page = post(teacher, SET, do="start", **{"brief-from": str(site.other_assignment)}).text
    assert "The brief can be read." not in page
    assert "Secret work" not in page


def test_work_is_set_with_dates_on_the_schools_clock(site: Site, teacher: FlaskClient) -> None:
    answer = post(teacher, SET, **FORM | {"do": "set", "release": "by hand", "title": "Second  bridge"})
    assert answer.status_code == 303
    made = newest(site)
    assert (made.class_id, made.title, made.release_by_hand) == (1, "Second bridge", True)
    assert made.due == made.newest.due == datetime(2030, 3, 15, 16, 0)
    site.work()
    assert "<svg" in teacher.get(answer.location).text
    assert "Due <time" in site.signed_in("Ada Fern").get(f"/assignments/{made.id}").text


def test_what_a_student_will_see_is_shown_before_anything_is_set(site: Site, teacher: FlaskClient) -> None:
    before = newest(site).id
    page = post(teacher, SET, **FORM | {"do": "look"}).text
    shown = page.split("What a student will see")[1].split("<form")[0]
    assert "Span: 600 mm" not in shown.split("What to build")[0]
    assert "600 mm from support to support" in shown
    assert "Fri 15 March 2030, 16:00" in shown
    assert newest(site).id == before


def test_an_hour_that_is_missing_is_told_and_nothing_is_lost(site: Site, teacher: FlaskClient) -> None:
    page = post(teacher, SET, **FORM | {"do": "set", "due": "2030-03-31T01:30", "title": "Mine"})
    assert page.status_code == 422
    assert "clocks go forward over it" in page.text
    assert 'value="Mine"' in page.text
    assert "footbridge" in page.text.lower()


def test_a_mistake_in_the_brief_is_told_and_nothing_is_set(site: Site, teacher: FlaskClient) -> None:
    before = newest(site).id
    page = post(teacher, SET, **FORM | {"do": "set", "brief": BRIEF.replace("span:", "spam:")})
    assert page.status_code == 422
    assert "to mend</strong> in the brief" in page.text
    assert newest(site).id == before


def test_work_may_begin_a_contest_or_enter_one(site: Site, teacher: FlaskClient) -> None:
    post(teacher, SET, **FORM | {"do": "set", "new_contest": "Autumn bridges"})
    with site.records.read() as session:
        assert session.get_one(Contest, newest(site).contest_id or 0).title == "Autumn bridges"
    again = post(teacher, SET, **FORM | {"do": "set", "new_contest": "Autumn bridges"})
    assert again.status_code == 422
    post(teacher, SET, **FORM | {"do": "set", "contest": str(site.contest)})
    assert newest(site).contest_id == site.contest


def test_a_copy_asks_the_same_and_has_no_dates(site: Site) -> None:
    coordinator = site.signed_in("Cora Vale")
    with site.records.write() as session:
        session.get_one(Assignment, site.assignment).due = datetime(2026, 3, 1)
    offered = coordinator.get(f"/staff/assignments/{site.assignment}/copy").text
    assert "Class <bdi>Herons</bdi>" in offered
    copy = coordinator.get(f"/staff/assignments/{site.assignment}/copy?class=2", follow_redirects=True).text
    assert "Set work for class <bdi>Herons</bdi>" in copy
    assert 'id="due" name="due" type="datetime-local" value=""' in copy
    assert 'value="Footbridge over the mill stream"' in copy


def test_a_new_due_date_is_a_version_and_work_handed_in_keeps_its_own(site: Site, teacher: FlaskClient) -> None:
    first = site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    answer = post(teacher, f"/staff/assignments/{site.assignment}/dates", opens="", due="2020-01-01T10:00")
    assert answer.status_code == 303
    second = site.hand_in(site.signed_in("Ben Holt"))
    with site.records.read() as session:
        due = [session.get_one(Submission, number).due for number in (first, second)]
        assert due == [None, datetime(2020, 1, 1, 10, 0)]
        assert session.get_one(Assignment, site.assignment).newest.why == "another due date"
    assert "mark the class again" in teacher.get(answer.location).text


def test_dates_set_for_a_class_outlive_a_new_version_of_the_brief(site: Site, teacher: FlaskClient) -> None:
    post(teacher, f"/staff/assignments/{site.assignment}/dates", opens="", due="2031-05-05T12:00")
    address = f"/staff/assignments/{site.assignment}/writing"
    trial = post(teacher, address, do="try", brief=BRIEF.replace("200 N", "210 N"), rubric=RUBRIC).location
    assert post(teacher, f"{trial}/save", do="save", why="heavier").status_code == 303
    with site.records.read() as session:
        found = session.get_one(Assignment, site.assignment)
        assert found.due == found.newest.due == datetime(2031, 5, 5, 11, 0)


def late_work(site: Site, teacher: FlaskClient) -> int:
    """An attempt of Ada's that is a day and an hour late and has lost points for it."""
    due = f"{now() - timedelta(hours=25):%Y-%m-%dT%H:%M}"
    made = post(teacher, SET, **FORM | {"do": "set", "rubric": LATE_RUBRIC, "due": due})
    assert made.status_code == 303, made.text
    submission = site.hand_in(site.signed_in("Ada Fern"), assignment=newest(site).id)
    site.work()
    return submission


def extension(site: Site, teacher: FlaskClient, **fields: str) -> int:
    address = f"/staff/assignments/{newest(site).id}/extensions"
    status = post(teacher, address, student=str(site.ids["Ada Fern"]), **fields).status_code
    site.work()
    return status


def test_an_extension_counts_for_work_that_is_marked_and_can_be_taken_back(site: Site, teacher: FlaskClient) -> None:
    submission = late_work(site, teacher)
    with site.records.read() as session:
        late = session.get_one(Submission, submission).total
    assert extension(site, teacher, **{"own-due": "2035-01-01T10:00", "why": "was ill"}) == 303
    with site.records.read() as session:
        found = session.get_one(Submission, submission)
        assert (found.due, late is not None and found.total is not None and late < found.total) == (
            datetime(2035, 1, 1, 10, 0),
            True,
        )
    shown = site.signed_in("Ada Fern").get(f"/assignments/{newest(site).id}").text
    assert "your own date" in shown
    assert "was ill" not in shown
    assert "<strong>late</strong>" not in shown
    assert extension(site, teacher, do="take") == 303
    with site.records.read() as session:
        assert session.get_one(Submission, submission).total == late


@pytest.mark.parametrize(("fields", "said"), [
    ({"own-due": "2001-01-01T10:00"}, "ends after the due date of the class"),
    ({"own-due": ""}, "Write the date"),
    ({"own-due": "2035-01-01T10:00", "student": "3"}, "Choose a student of the class"),
])  # fmt: skip
def test_an_extension_that_makes_no_sense_is_told(
    site: Site, teacher: FlaskClient, fields: dict[str, str], said: str
) -> None:
    post(teacher, SET, **FORM | {"do": "set"})
    address = f"/staff/assignments/{newest(site).id}/extensions"
    answer = post(teacher, address, **{"student": str(site.ids["Ada Fern"])} | fields)
    assert answer.status_code == 422
    assert said in answer.text
    with site.records.read() as session:
        assert session.query(Extension).count() == 0


def test_a_calendar_holds_the_own_date_and_no_other_class(site: Site, teacher: FlaskClient) -> None:
    post(teacher, SET, **FORM | {"do": "set", "title": "Long bridge"})
    extension(site, teacher, **{"own-due": "2035-01-01T10:00"})
    with site.records.write() as session:
        session.get_one(Assignment, site.other_assignment).due = datetime(2030, 1, 1)
        enrol.set_school(session, "Millbrook School")
    ada, ben, staff = (site.signed_in(name).get("/due-dates.ics") for name in ("Ada Fern", "Ben Holt", "Tess Birch"))
    assert ada.headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert "DTSTART:20350101T100000Z" in ada.text
    assert "DTSTART:20300315T160000Z" in ben.text
    assert "SUMMARY:Long bridge\\, Otters" in staff.text
    assert all(answer.text.count("BEGIN:VEVENT") == 1 for answer in (ada, ben, staff))
