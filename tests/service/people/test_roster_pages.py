"""Bringing a class list in on the web: shown first, written once, with cards to print."""

from __future__ import annotations

import re
from io import BytesIO

from flask.testing import FlaskClient

from service.records.models import Person
from tests.service.people.lists.test_oneroster import FILES, packed
from tests.service.site import Site, post, token

TEACHER = "Tess Birch"
ADDRESS = "/staff/classes/1/list"


def fields(page: str) -> dict[str, str]:
    """What the shown form would send."""
    text = re.search(r'<textarea name="list"[^>]*>(.*?)</textarea>', page, re.S)
    shown = re.search(r'name="shown" value="([^"]*)"', page)
    assert text is not None
    assert shown is not None
    return {"list": text[1].replace("&#34;", '"').replace("&amp;", "&"), "shown": shown[1]}


def looked(browser: FlaskClient, text: str) -> str:
    answer = browser.post(ADDRESS, data={"csrf_token": token(browser), "list": text})
    assert answer.status_code == 200
    return answer.text


def brought(browser: FlaskClient, text: str, **more: str) -> str:
    sent = {"csrf_token": token(browser), **fields(looked(browser, text)), **more}
    answer = browser.post(f"{ADDRESS}/bring", data=sent)
    assert answer.status_code == 200
    return answer.text


def people(site: Site) -> dict[str, Person]:
    with site.records.read() as session:
        return {one.name: one for one in session.query(Person).filter(Person.class_id == 1)}


def test_a_list_is_shown_before_anything_is_written(site: Site) -> None:
    before = set(people(site))
    page = looked(site.signed_in(TEACHER), "Name\nAda Fern\nNew Face\n")
    assert "<strong>New:</strong> <bdi>New Face</bdi>." in page
    assert "<bdi>Ben Holt</bdi>" in page  # not on the list
    assert set(people(site)) == before


def test_who_is_new_gets_a_card_and_can_sign_in_with_it(site: Site) -> None:
    page = brought(site.signed_in(TEACHER), "Name\nAda Fern\nBen Holt\nNew Face\n")
    words = re.search(r"Three words<br><strong>([a-z-]+)</strong>", page)
    assert words is not None
    assert '<svg class="qr"' in page or 'class="qr"' in page
    assert post(site.visitor(), "/sign-in", class_code="8B", passphrase=words[1]).status_code == 302


def test_the_same_list_brought_in_again_changes_nobody(site: Site) -> None:
    browser = site.signed_in(TEACHER)
    brought(browser, "Name,No\nAda Fern,1\nBen Holt,2\nNew Face,3\n")
    before = {name: (one.id, one.secret_hash, one.alias) for name, one in people(site).items()}
    page = brought(browser, "Name,No\nAda Fern,1\nBen Holt,2\nNew Face,3\n")
    assert "0 pupils new" in page
    assert {name: (one.id, one.secret_hash, one.alias) for name, one in people(site).items()} == before


def test_leavers_keep_their_work_and_cannot_sign_in_until_taken_back(site: Site) -> None:
    browser = site.signed_in(TEACHER)
    brought(browser, "Name\nBen Holt\n", leavers="yes")
    assert people(site)["Ada Fern"].left_at is not None
    old = site.secrets["Ada Fern"].secret
    assert post(site.visitor(), "/sign-in", class_code="8B", passphrase=old).status_code == 403
    leave = f"/staff/students/{site.ids['Ada Fern']}/leave"
    assert browser.post(leave, data={"csrf_token": token(browser)}).status_code == 303
    assert people(site)["Ada Fern"].left_at is None


def test_leavers_stay_unless_the_box_is_ticked(site: Site) -> None:
    brought(site.signed_in(TEACHER), "Name\nBen Holt\n")
    assert people(site)["Ada Fern"].left_at is None


def test_a_class_that_changed_meanwhile_is_shown_again_and_not_written(site: Site) -> None:
    browser = site.signed_in(TEACHER)
    sent = fields(looked(browser, "Name\nNew Face\n"))
    brought(browser, "Name\nNew Face\n")
    answer = browser.post(f"{ADDRESS}/bring", data={"csrf_token": token(browser), **sent})
    assert "Somebody changed the class meanwhile. Look again." in answer.text
    assert list(people(site)).count("New Face") == 1


def test_an_export_of_several_classes_asks_which_one(site: Site) -> None:
    browser = site.signed_in(TEACHER)
    extra = FILES["enrollments.csv"] + "e7,active,c3,s,u2,student\n"
    data = BytesIO(packed({**FILES, "enrollments.csv": extra}))
    sent = {"csrf_token": token(browser), "file": (data, "export.zip")}
    page = browser.post(ADDRESS, data=sent, content_type="multipart/form-data").text
    assert "The export holds 2 classes with pupils. Which one is this?" in page
    assert "Technology 8B" in page


def test_a_list_that_cannot_be_read_is_refused_in_words(site: Site) -> None:
    browser = site.signed_in(TEACHER)
    answer = browser.post(ADDRESS, data={"csrf_token": token(browser), "list": " "})
    assert answer.status_code == 422
    assert "There is nobody in the list. Write one pupil a line." in answer.text


def test_new_cards_for_the_class_end_the_old_words(site: Site) -> None:
    browser = site.signed_in(TEACHER)
    page = browser.post("/staff/classes/1/cards", data={"csrf_token": token(browser)}).text
    assert page.count("Three words<br>") == 2
    old = site.secrets["Ada Fern"].secret
    assert post(site.visitor(), "/sign-in", class_code="8B", passphrase=old).status_code == 403


def test_a_name_with_markup_is_shown_as_it_is_written(site: Site) -> None:
    page = looked(site.signed_in(TEACHER), "Name\n<script>alert(1)</script> Lee\n")
    assert "<script>alert" not in page
    assert "&lt;script&gt;" in page
