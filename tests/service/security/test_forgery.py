"""Nothing is changed by a form that another site made."""

from __future__ import annotations

import pytest

from service.people.guards import IDLE_S
from service.records.models import SchoolClass
from tests.service.security.doors import browsers, changing, counts, is_for_programs
from tests.service.site import Site, token


def test_every_change_needs_the_token_of_the_session(site: Site) -> None:
    site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    people, before, walked = browsers(site), counts(site), 0
    foreign = token(people["Ben Holt"])
    for rule, address, name in changing(site):
        for data in ({}, {"csrf_token": ""}, {"csrf_token": "made-up"}, {"csrf_token": foreign}):
            if name == "Ben Holt" and data.get("csrf_token") == foreign:
                continue
            answer = people[name].post(address, data=data)
            refused = 401 if is_for_programs(rule) else 400  # a session opens nothing there
            assert answer.status_code == refused, (rule, data, answer.status_code)
            walked += 1
    assert counts(site) == before
    assert walked > 60


@pytest.mark.parametrize(("language", "said"), [("en", "That was not sent"), ("de", "Das wurde nicht abgeschickt")])
def test_a_refusal_says_what_happened_and_how_nothing_is_lost(site: Site, language: str, said: str) -> None:
    with site.records.write() as session:
        session.query(SchoolClass).filter_by(code="8B").one().language = language
    answer = site.signed_in("Ada Fern").post("/alias", data={"csrf_token": "old", "own": "Moon Rider"})
    assert answer.status_code == 400
    assert f'<html lang="{language}">' in answer.text
    assert f"<h1>{said}</h1>" in answer.text
    assert answer.text.partition("<main")[2].count("<li>") == 3
    assert "Ada" not in answer.text.partition("<main")[2]


def test_whoever_is_signed_out_meanwhile_is_told_so_in_the_language_of_the_browser(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    old = token(client)
    with client.session_transaction() as kept:
        kept["seen"] -= IDLE_S + 5
    where = f"/assignments/{site.assignment}/attempts"
    answer = client.post(where, data={"csrf_token": old, "text": "x"}, headers={"Accept-Language": "de"})
    assert answer.status_code == 400
    assert "<h1>Abgemeldet</h1>" in answer.text
    english = client.post("/sign-in", data={}, headers={"Accept-Language": "en"})
    assert "<h1>You are signed out</h1>" in english.text
    assert "Sign in, and open that page again." in english.text


def test_no_route_changes_anything_by_another_verb(site: Site) -> None:
    for rule in site.app.url_map.iter_rules():
        assert (rule.methods or set()) <= {"GET", "HEAD", "OPTIONS", "POST"}, rule


def test_a_question_changes_no_row(site: Site) -> None:
    """No GET writes: another site could have a browser ask for it."""
    from tests.service.test_routes import address

    site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    people, before = browsers(site), counts(site)
    for rule in site.app.url_map.iter_rules():
        if "GET" in (rule.methods or ()) and rule.endpoint != "static":
            where = address(site, rule, 1, 1) if set(rule.arguments) <= KNOWN else "/nothing"
            for client in people.values():
                client.get(where)
    after = counts(site)
    assert {name: after[name] for name in after if after[name] != before[name]} == {}


KNOWN = {
    "assignment_id", "submission_id", "contest_id", "class_id", "student_id", "person_id", "notice_id", "marking_id",
    "version_id", "trial_id", "name", "year",
}  # fmt: skip
