"""Bringing a class list in on the web: shown first, written once, with cards to print."""

from __future__ import annotations

import re
from html import unescape
from io import BytesIO

import pytest
from flask.testing import FlaskClient

from service.records.models import Person, SchoolClass
from tests.service.classes.test_handing_on import files as files_in
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


def exported(browser: FlaskClient, files: dict[str, str], **more: str) -> str:
    """What is shown of an export that is chosen as a file."""
    sent = {"csrf_token": token(browser), "file": (BytesIO(packed(files)), "export.zip"), **more}
    answer = browser.post(ADDRESS, data=sent, content_type="multipart/form-data")
    assert answer.status_code == 200
    return answer.text


def written(browser: FlaskClient, page: str) -> None:
    """Bring in what a page shows, with the id of the class that stands in it."""
    shown = re.search(r'name="sourced-id" value="([^"]*)">\s*<input type="hidden" name="shown"', page)
    assert shown is not None
    sent = {"csrf_token": token(browser), **fields(page), "sourced-id": unescape(shown[1])}
    assert browser.post(f"{ADDRESS}/bring", data=sent).status_code == 200


def class_id(site: Site) -> str | None:
    with site.records.read() as session:
        return session.get_one(SchoolClass, 1).sourced_id


def test_an_export_still_finds_a_class_that_the_coordinator_has_renamed(site: Site) -> None:
    browser = site.signed_in(TEACHER)
    written(browser, exported(browser, FILES))
    post(site.signed_in("Cora Vale"), "/staff/office/classes/1/name", name="The Otters")
    page = exported(browser, FILES)
    assert "It was found by its id there" in page
    assert "2 pupils on the list, 2 of them here already" in page


def test_a_second_export_finds_the_class_by_its_id_though_it_is_renamed(site: Site) -> None:
    browser = site.signed_in(TEACHER)
    first = exported(browser, FILES)
    assert class_id(site) is None
    written(browser, first)
    assert class_id(site) == "c1"
    renamed = FILES["classes.csv"].replace("Technology 8B,,,8B", "Bridges 9B,,,9B")
    two = FILES["enrollments.csv"] + "e7,active,c3,s,u2,student\n"
    page = exported(browser, {**FILES, "classes.csv": renamed, "enrollments.csv": two})
    assert "the class <bdi>Bridges 9B</bdi> of the export. It was found by its id there" in page
    assert "2 pupils on the list, 2 of them here already" in page
    assert "Look at <bdi>Nobody here</bdi>" in page  # still there to choose


def test_a_list_without_ids_leaves_the_id_of_the_class_and_another_export_says_what_it_replaces(site: Site) -> None:
    browser = site.signed_in(TEACHER)
    written(browser, exported(browser, FILES))
    brought(browser, "Name\nAda Fern\n")
    assert class_id(site) == "c1"
    other = {name: text.replace("c1,", "c9,") for name, text in FILES.items()}
    page = exported(browser, other)
    assert "<bdi>c9</bdi>, in place of <bdi>c1</bdi>" in page
    written(browser, page)
    assert class_id(site) == "c9"


@pytest.mark.parametrize(("key", "kept"), [('"=c,""1"', '=c,"1'), ("c" * 256, None), ("c\u202e1", None)])
def test_an_id_is_kept_letter_for_letter_or_not_at_all(site: Site, key: str, kept: str | None) -> None:
    browser = site.signed_in(TEACHER)
    files = {name: text.replace("c1,", f"{key},") for name, text in FILES.items()}
    written(browser, exported(browser, files))
    assert class_id(site) == kept


def test_results_go_back_under_the_ids_that_came_in(site: Site) -> None:
    browser = site.signed_in(TEACHER)
    users = FILES["users.csv"].replace("Adelaide,Fennimore,Ada", "Adelaide,Fern,Ada")
    written(browser, exported(browser, {**FILES, "users.csv": users}))
    found = files_in(browser.get(f"/staff/assignments/{site.assignment}/oneroster.zip").data)
    assert found["lineItems.csv"][0]["classSourcedId"] == "c1"
    assert {row["studentSourcedId"] for row in found["results.csv"]} == {"u1", "u2"}
    assert 'value="c1"' in browser.get(f"/staff/assignments/{site.assignment}/marks").text


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
