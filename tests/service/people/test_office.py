"""The coordinator's office: classes and staff made and mended on the web."""

from __future__ import annotations

import re

import pytest

from service.records.models import Person, SchoolClass, Teaching
from tests.service.site import Site, post

COORDINATOR, TEACHER, OTHER = "Cora Vale", "Tess Birch", "Owen Reed"


def password(page: str) -> str:
    found = re.search(r"<dt>Password</dt><dd>([a-z-]+)</dd>", page)
    assert found is not None
    return found[1]


def taught(site: Site, name: str) -> set[int]:
    with site.records.read() as session:
        return {row.class_id for row in session.query(Teaching).filter(Teaching.person_id == site.ids[name])}


def test_a_class_is_made_and_its_list_asked_for(site: Site) -> None:
    answer = post(site.signed_in(COORDINATOR), "/staff/office/classes", name="Class 9A", code="9a")
    assert answer.status_code == 303
    with site.records.read() as session:
        made = session.query(SchoolClass).filter(SchoolClass.code == "9A").one()
    assert answer.location == f"/staff/classes/{made.id}/list"


@pytest.mark.parametrize(
    ("name", "code", "said"),
    [
        ("Again", "8b", "There already is a class with the code 8B"),
        ("Odd", "8/b", "is no class code"),
        ("", "9Z", "needs a name"),
    ],
)
def test_a_class_that_cannot_be_is_refused_in_words(site: Site, name: str, code: str, said: str) -> None:
    answer = post(site.signed_in(COORDINATOR), "/staff/office/classes", name=name, code=code)
    assert answer.status_code == 422
    assert said in answer.text


def test_a_class_is_renamed_and_keeps_its_code_and_the_id_of_its_list(site: Site) -> None:
    with site.records.write() as session:
        session.get_one(SchoolClass, 1).sourced_id = "c1"
    browser = site.signed_in(COORDINATOR)
    answer = post(browser, "/staff/office/classes/1/name", name=" Bridges  9B ")
    assert "The class is called Bridges 9B now. Its code is still 8B." in browser.get(answer.location).text
    assert named(site) == ("Bridges 9B", "8B", "c1")
    assert "needs a name" in browser.get(post(browser, "/staff/office/classes/1/name", name=" ").location).text
    assert named(site) == ("Bridges 9B", "8B", "c1")


def test_only_the_coordinator_finds_the_form_that_renames_a_class(site: Site) -> None:
    shown = {
        name: "Rename the class" in site.signed_in(name).get("/staff/classes/1").text for name in (COORDINATOR, TEACHER)
    }
    assert shown == {COORDINATOR: True, TEACHER: False}
    assert post(site.signed_in(COORDINATOR), "/staff/office/classes/99/name", name="x").status_code == 404


def named(site: Site) -> tuple[str, str, str | None]:
    with site.records.read() as session:
        found = session.get_one(SchoolClass, 1)
        return found.name, found.code, found.sourced_id


def test_a_new_teacher_signs_in_with_what_is_shown_once_and_sees_the_classes_given(site: Site) -> None:
    page = post(
        site.signed_in(COORDINATOR), "/staff/office/people", name="Una Marl", role="teacher", **{"class": "8B"}
    ).text
    visitor = site.visitor()
    assert post(visitor, "/sign-in/staff", name="una marl", password=password(page)).status_code == 302
    assert "8B" in visitor.get("/staff").text


def test_a_new_password_ends_the_old_one_and_every_session(site: Site) -> None:
    teacher = site.signed_in(TEACHER)
    page = post(site.signed_in(COORDINATOR), f"/staff/office/people/{site.ids[TEACHER]}/password").text
    assert teacher.get("/staff").status_code == 302
    old = site.secrets[TEACHER].secret
    assert post(site.visitor(), "/sign-in/staff", name=TEACHER, password=old).status_code == 403
    assert post(site.visitor(), "/sign-in/staff", name=TEACHER, password=password(page)).status_code == 302


def test_two_teachers_can_share_a_class_and_stop_again(site: Site) -> None:
    browser = site.signed_in(COORDINATOR)
    address = f"/staff/office/people/{site.ids[OTHER]}/classes"
    before = taught(site, OTHER)
    post(browser, address, **{"class": "1"})
    assert taught(site, OTHER) == {1}
    assert taught(site, TEACHER) == {1}
    post(browser, address)
    assert taught(site, OTHER) == set()
    assert before != {1}


def test_a_student_is_not_one_of_the_staff(site: Site) -> None:
    browser = site.signed_in(COORDINATOR)
    assert post(browser, f"/staff/office/people/{site.ids['Ada Fern']}/password").status_code == 404
    with site.records.read() as session:
        assert session.get_one(Person, site.ids["Ada Fern"]).role == "student"
