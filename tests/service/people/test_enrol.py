"""Bringing in a school, and what is said when that cannot be done."""

from __future__ import annotations

import pytest

from service.people import enrol
from service.people.enrol import CannotEnrol
from service.people.passwords import fits
from service.people.sign_in import Welcome, student_sign_in
from service.records.engine import Records
from service.records.models import TEACHER, Person
from tests.service.site import Site


def refused(site: Site, function, *arguments, **options) -> str:  # type: ignore[no-untyped-def]
    with pytest.raises(CannotEnrol) as told, site.records.write() as session:
        function(session, *arguments, **options)
    return str(told.value)


def test_every_student_of_a_class_gets_a_sign_in_that_works(site: Site) -> None:
    names = ["\ufeffZoë O'Brook", "", "  Li   Wei ", "محمد علي", "<script>alert(1)</script>"]
    with site.records.write() as session:
        sign_ins = enrol.add_class(session, "Kites", "7 a", names)
    assert [one.name for one in sign_ins] == ["Zoë O'Brook", "Li Wei", "محمد علي", "<script>alert(1)</script>"]
    assert all(isinstance(student_sign_in(site.records.write, "7A", one.secret), Welcome) for one in sign_ins)


def test_the_first_words_of_a_class_are_all_different(site: Site) -> None:
    with site.records.write() as session:
        sign_ins = enrol.add_class(session, "Kites", "7A", [f"Student {n}" for n in range(40)])
    assert len({one.secret.split("-")[0] for one in sign_ins}) == 40


def test_only_hashes_of_secrets_are_kept(site: Site) -> None:
    one = site.secrets["Ada Fern"]
    with site.records.read() as session:
        person = session.get_one(Person, site.ids["Ada Fern"])
        kept = " ".join(str(value) for value in vars(person).values())
    assert one.secret not in kept
    assert fits(person.secret_hash, one.secret)


def test_an_empty_class_list_is_refused(site: Site) -> None:
    assert refused(site, enrol.add_class, "Kites", "7A", ["", "  "]) == (
        "There is nobody in the class list. Write one name a line."
    )


def test_a_code_that_is_taken_is_refused(site: Site) -> None:
    said = refused(site, enrol.add_class, "Kites", "8b", ["Ann Lee"])
    assert said == "There already is a class with the code 8B. Choose another code."


@pytest.mark.parametrize("code", ["", "8B!", "a" * 21, "8/B"])
def test_an_odd_code_is_refused(site: Site, code: str) -> None:
    assert "is no class code" in refused(site, enrol.add_class, "Kites", code, ["Ann Lee"])


def test_a_name_that_stands_twice_is_refused_with_both_lines(site: Site) -> None:
    said = refused(site, enrol.add_class, "Kites", "7A", ["Ann Lee", "Bo Ray", "", "Ann  Lee"])
    assert "'Ann Lee' stands in line 1 and again in line 4." in said


def test_a_name_with_a_control_character_or_without_end_is_refused(site: Site) -> None:
    assert "holds a character that is no letter" in refused(site, enrol.add_class, "K", "7A", ["Ann\x00Lee"])
    assert "Shorten it to 100." in refused(site, enrol.add_class, "K", "7A", ["x" * 101])


def test_staff_names_are_different_in_any_case(site: Site) -> None:
    assert "already signs in" in refused(site, enrol.add_staff, TEACHER, "tess BIRCH")


def test_a_teacher_of_an_unknown_class_is_told_which_there_are(site: Site) -> None:
    assert "use one of '8B', '9C'." in refused(site, enrol.add_staff, TEACHER, "New Person", ["8V"])


def test_a_short_password_is_refused(site: Site) -> None:
    assert "10 to 200 characters" in refused(site, enrol.add_staff, TEACHER, "New Person", password="short")


def test_a_time_zone_that_is_not_known_is_told_the_nearest(site: Site) -> None:
    assert "did you mean 'Europe/Lisbon'?" in refused(site, enrol.set_school, "Millbrook", "Europe/Lisbonn")


def test_before_there_is_a_school_the_first_step_is_named(records: Records) -> None:
    with pytest.raises(CannotEnrol, match="Begin with 'kingpost admin school NAME'"), records.write() as session:
        enrol.add_class(session, "Kites", "7A", ["Ann Lee"])


def test_a_new_passphrase_ends_the_old_one_and_every_session(site: Site) -> None:
    client, old = site.signed_in("Ada Fern"), site.secrets["Ada Fern"].secret
    with site.records.write() as session:
        fresh = enrol.new_secret(session, enrol.find_person(session, "Ada Fern", "8B"))
    assert client.get("/desk").location == "/sign-in"
    assert not isinstance(student_sign_in(site.records.write, "8B", old), Welcome)
    assert isinstance(student_sign_in(site.records.write, "8B", fresh.secret), Welcome)


def test_one_more_student_joins_a_class(site: Site) -> None:
    with site.records.write() as session:
        one = enrol.add_student(session, "8B", "Late Comer")
    assert isinstance(student_sign_in(site.records.write, "8B", one.secret), Welcome)
    assert "stands in line" in refused(site, enrol.add_student, "8B", "Ada Fern")
