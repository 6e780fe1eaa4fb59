"""Pages in the language of whoever reads them."""

from __future__ import annotations

from flask.testing import FlaskClient

from rubric.language import spoken
from service.records.models import SchoolClass
from tests.service.site import Site, token


def german_class(site: Site) -> None:
    """Class 8B reads German."""
    with site.records.write() as session:
        for school_class in session.query(SchoolClass):
            school_class.language = "de"


def page(client: FlaskClient, address: str, accept: str = "") -> str:
    return client.get(address, headers={"Accept-Language": accept}).get_data(as_text=True)


def test_a_student_reads_in_the_language_of_the_class_and_staff_in_their_own(site: Site) -> None:
    german_class(site)
    assert '<html lang="de">' in page(site.signed_in("Ada Fern"), "/alias")
    assert '<html lang="en">' in page(site.signed_in("Tess Birch"), "/staff", "de")
    assert spoken() == "en"


def test_one_of_the_staff_chooses_a_language_on_the_account_page(site: Site) -> None:
    client = site.signed_in("Tess Birch")
    answer = client.post("/account/language", data={"csrf_token": token(client), "language": "de"})
    assert "Ihre Seiten sind ab jetzt auf Deutsch." in page(client, answer.location)
    assert '<html lang="de">' in page(client, "/staff", "en")
    assert '<html lang="en">' in page(site.signed_in("Ada Fern"), "/alias")
    client.post("/account/language", data={"csrf_token": token(client), "language": "klingon"})
    assert '<html lang="en">' in page(client, "/staff", "de")


def test_without_sign_in_the_browser_is_asked_until_somebody_chooses(site: Site) -> None:
    client = site.app.test_client()
    assert '<html lang="de">' in page(client, "/sign-in", "de-AT,de;q=0.9,en;q=0.5")
    assert '<html lang="en">' in page(client, "/sign-in", "fr")
    assert '<html lang="de">' in page(client, "/sign-in?language=de")
    assert '<html lang="de">' in page(client, "/sign-in", "en")
    assert '<html lang="en">' in page(client, "/sign-in?language=klingon", "de")


def test_a_class_that_signs_out_is_told_so_in_its_language(site: Site) -> None:
    german_class(site)
    client = site.signed_in("Ada Fern")
    client.post("/sign-out", data={"csrf_token": token(client)})
    assert '<html lang="de">' in page(client, "/signed-out")


def test_staff_who_sign_out_choose_no_language_for_who_sits_here_next(site: Site) -> None:
    client = site.signed_in("Tess Birch")
    client.post("/sign-out", data={"csrf_token": token(client)})
    assert '<html lang="de">' in page(client, "/sign-in", "de")


def test_a_teacher_chooses_the_language_of_a_class(site: Site) -> None:
    client = site.signed_in("Tess Birch")
    with site.records.read() as session:
        number = session.query(SchoolClass).filter_by(code="8B").one().id
    client.post(f"/staff/classes/{number}/language", data={"csrf_token": token(client), "language": "de"})
    said = page(client, f"/staff/classes/{number}")
    assert "are in Deutsch from now on" in said
    with site.records.read() as session:
        assert session.get_one(SchoolClass, number).language == "de"
