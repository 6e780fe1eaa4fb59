"""Names and texts that somebody chose to do harm: markup, writing direction, formulas, ten thousand characters."""

from __future__ import annotations

import csv
import re
from io import BytesIO, StringIO

import pytest

from service.people.enrol import LONGEST_NAME
from service.records.models import Person, Submission
from tests.service.site import GIRDER, Site, post, token

MARKUP = '<script>alert(1)</script>"><img src=x onerror=alert(1)>'
TURNED = "gpj.\u202eyaml\u202d\u2066x\u2069"
FORMULA = '=HYPERLINK("https://evil.example","x")'
LONG = "x" * 10_000
HOSTILE = [
    MARKUP,
    TURNED,
    FORMULA,
    LONG,
    "a\r\nX-Evil: 1.yaml",
    "..\\..\\etc\\passwd",
    "../../x",
    "\x00.yaml",
    "{{7*7}}",
]


@pytest.mark.parametrize("name", HOSTILE)
def test_a_file_name_is_text_and_nothing_else(site: Site, name: str) -> None:
    ada = site.signed_in("Ada Fern")
    data = {"csrf_token": token(ada), "file": (BytesIO(GIRDER), name)}
    answer = ada.post(f"/assignments/{site.assignment}/attempts", data=data, content_type="multipart/form-data")
    assert answer.status_code in (303, 422)
    if answer.status_code == 422:
        return
    site.work()
    with site.records.read() as session:
        kept = session.query(Submission).one().file_name
    assert len(kept) <= 200
    assert kept.isprintable()
    assert "/" not in kept
    for browser, page in ((ada, "/attempts/1"), (site.signed_in("Tess Birch"), "/attempts/1")):
        text = browser.get(page).text
        assert "<img src=x" not in text
        assert "<script>alert" not in text
    headers = ada.get("/attempts/1/file").headers
    assert "X-Evil" not in headers
    assert headers["Content-Disposition"].startswith("attachment;")
    assert headers["Content-Type"] == "application/octet-stream"


@pytest.mark.parametrize("alias", HOSTILE)
def test_an_alias_that_was_not_offered_reaches_no_board_by_itself(site: Site, alias: str) -> None:
    ada = site.signed_in("Ada Fern")
    assert post(ada, "/alias", alias=alias).status_code < 500
    with site.records.read() as session:
        assert session.get_one(Person, site.ids["Ada Fern"]).alias != alias


def names_in(page: str) -> str:
    return page.partition("What would change")[2]


@pytest.mark.parametrize("name", [MARKUP, FORMULA, "{{7*7}} Fern", "Ada\u202e Fern"])
def test_a_pupils_name_is_text_on_pages_and_no_formula_in_a_table(site: Site, name: str) -> None:
    tess = site.signed_in("Tess Birch")
    text = StringIO()
    csv.writer(text).writerows([["Name"], ["Ada Fern"], ["Ben Holt"], [name]])
    looked = post(tess, "/staff/classes/1/list", list=text.getvalue())
    assert "<img src=x" not in looked.text
    assert "49 Fern" not in looked.text
    with site.records.write() as session:
        session.get_one(Person, site.ids["Ben Holt"]).name = name
    site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    for page in (
        "/staff/classes/1",
        f"/staff/assignments/{site.assignment}",
        f"/staff/students/{site.ids['Ben Holt']}/delete",
    ):
        shown = tess.get(page).text
        assert "<img src=x" not in shown
        assert "49 Fern" not in shown
        assert not re.search(
            r"(?<!<bdi>)Ada\u202e", re.sub(r"<title>.*?</title>|(value|aria-label)=\"[^\"]*\"", "", shown)
        ), page
    table = tess.get(f"/staff/assignments/{site.assignment}/marks.csv").data.decode("utf-8-sig")
    for row in csv.reader(StringIO(table)):
        for cell in row:
            assert not re.match(r"[=+@\t\r]|-(?![\d.])", cell), cell


@pytest.mark.parametrize("name", [LONG, "x" * (LONGEST_NAME + 1)])
def test_a_name_that_is_too_long_is_refused_with_its_length(site: Site, name: str) -> None:
    answer = post(site.signed_in("Cora Vale"), "/staff/office/people", name=name, role="teacher")
    assert answer.status_code == 422
    assert f"Shorten it to {LONGEST_NAME}" in answer.text


@pytest.mark.parametrize("text", HOSTILE)
def test_what_is_typed_at_the_door_comes_back_as_text(site: Site, text: str) -> None:
    for page, fields in (
        ("/sign-in", {"class_code": text, "passphrase": text}),
        ("/sign-in/staff", {"name": text, "password": text}),
    ):
        answer = post(site.visitor(), page, **fields)
        assert answer.status_code == 403
        assert "<img src=x" not in answer.text
        assert len(answer.text) < 20_000
