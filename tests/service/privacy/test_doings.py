"""The record: every change of mark, release, sign-in, list, role and deletion, with filters."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

import pytest
from flask.testing import FlaskClient

from rubric.language import speaking
from service.privacy.doings import AT_ONCE, KINDS, what_said
from service.records.acts import WHAT, Act, note
from service.records.models import Change, Person, now
from tests.service.site import Site, post

OWN, TEACHER, COORDINATOR, PAGE = "Ada Fern", "Tess Birch", "Cora Vale", "/staff/office/record"


def shown(browser: FlaskClient, query: str = "") -> list[str]:
    page = browser.get(PAGE + query).text
    return re.findall(r'<th scope="row" data-name="What">([^<]+)</th>', page)


def test_every_act_belongs_to_one_kind_of_the_filter() -> None:
    assert sorted(what for kind in KINDS.values() for what in kind) == sorted(WHAT)


@pytest.fixture
def busy(site: Site) -> FlaskClient:
    """A coordinator, after a day on which everything happened."""
    number = site.hand_in(site.signed_in(OWN))
    site.work()
    tess, cora = site.signed_in(TEACHER), site.signed_in(COORDINATOR)
    post(tess, f"/attempts/{number}/release", do="hold", why="not yet")
    post(tess, f"/attempts/{number}/release", do="release")
    post(tess, f"/staff/assignments/{site.assignment}/release/setting", release="by hand")
    post(tess, f"/staff/students/{site.ids[OWN]}/passphrase")
    post(tess, "/staff/classes/1/cards")
    post(tess, f"/staff/students/{site.ids['Ben Holt']}/leave")
    post(tess, f"/staff/students/{site.ids['Ben Holt']}/leave")
    post(cora, "/staff/office/classes", name="Newts", code="7A")
    post(cora, "/staff/office/people", name="Nora Pine", role="teacher")
    post(cora, f"/staff/office/people/{site.ids[TEACHER]}/password")
    post(cora, f"/staff/office/people/{site.ids['Owen Reed']}/classes", **{"class": "1"})
    with site.records.write() as session:
        change = {"submission_id": number, "person_id": site.ids[TEACHER], "what": "corrected", "criterion": "strength"}
        session.add(Change(**change, total_before=70, total_after=71.5))
    return cora


def test_the_record_holds_all_of_it_newest_first(busy: FlaskClient) -> None:
    assert shown(busy) == [
        "corrected",
        "classes taught",
        "classes taught",
        "new sign-in",
        "staff added",
        "class made",
        "back from the leavers",
        "with the leavers",
        "new cards for a class",
        "new sign-in",
        "when marks are given",
        "released",
        "held back",
    ]
    page = busy.get(PAGE).text
    assert "Ada Fern, attempt 1" in page
    assert "strength; total 70 to 71.5" in page


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        ("marks", ["corrected"]),
        ("release", ["when marks are given", "released", "held back"]),
        ("sign-ins", ["new sign-in", "new cards for a class", "new sign-in"]),
        ("class+lists", ["back from the leavers", "with the leavers"]),
        ("deletion+and+data", []),
    ],
)
def test_a_kind_can_be_picked(busy: FlaskClient, kind: str, expected: list[str]) -> None:
    assert shown(busy, f"?kind={kind}") == expected


def test_a_person_and_days_can_be_picked(busy: FlaskClient, site: Site) -> None:
    assert "classes taught" not in shown(busy, f"?by={site.ids[TEACHER]}")
    assert "classes taught" in shown(busy, f"?by={site.ids[COORDINATOR]}")
    today = now().date()
    assert shown(busy, f"?until={today - timedelta(days=2)}") == []
    assert len(shown(busy, f"?since={today - timedelta(days=2)}&until={today + timedelta(days=2)}")) == 13


@pytest.mark.parametrize(
    "query", ["?kind=x&by=x&since=x&until=9999-12-31&page=x", "?page=0", "?page=999999999", "?by=²"]
)
def test_filters_that_are_none_do_no_harm(busy: FlaskClient, query: str) -> None:
    assert busy.get(PAGE + query).status_code == 200


def test_many_lines_are_paged(site: Site) -> None:
    with site.records.write() as session:
        for number in range(AT_ONCE + 5):
            session.add(
                Act(at=datetime(2027, 1, 1) + timedelta(hours=number), what="new sign-in", about="person", about_id=1)
            )
    cora = site.signed_in(COORDINATOR)
    assert "?page=2&amp;kind=sign-ins" in cora.get(f"{PAGE}?kind=sign-ins").text
    assert (len(shown(cora)), len(shown(cora, "?page=2"))) == (AT_ONCE, 5)


def test_of_a_pupil_who_was_deleted_a_number_stays(busy: FlaskClient, site: Site) -> None:
    post(busy, f"/staff/students/{site.ids[OWN]}/delete", typed=OWN)
    page = busy.get(PAGE).text
    assert OWN not in page
    assert f"person no. {site.ids[OWN]}" in page
    with site.records.read() as session:
        told = " ".join(f"{one.what} {one.word}" for one in session.query(Act))
        names = [person.name for person in session.query(Person)] + [OWN]
    assert not [name for name in names if name in told]


def test_an_act_is_kept_exactly_when_what_it_tells_of_is(site: Site) -> None:
    def fail() -> None:
        with site.records.write() as session:
            note(session, 1, "new sign-in", "person", 1)
            raise LookupError

    with pytest.raises(LookupError):
        fail()
    with site.records.read() as session:
        assert session.query(Act).count() == 0


@pytest.mark.parametrize("what", [*WHAT, *KINDS, "comment", "released", "marked again, version 3", "taken back"])
def test_each_act_is_named_in_german(what: str) -> None:
    assert what_said(what) == what
    with speaking("de"):
        assert what_said(what) != what
