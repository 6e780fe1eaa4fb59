"""A browser that signed in before counts its own wrong tries; strangers cannot keep a person out."""

from __future__ import annotations

from datetime import timedelta

import pytest
from flask.testing import FlaskClient
from itsdangerous import URLSafeSerializer

from service.people import browsers
from service.people.sign_in import ALARM_AFTER
from service.records.engine import Records
from service.records.models import TEACHER, Browser, Notice, Person, now
from tests.service.site import Site, post

TESS, STAFF_DOOR = "Tess Birch", "/sign-in/staff"


def guess(client: FlaskClient, times: int) -> int:
    return [post(client, STAFF_DOOR, name=TESS, password="wrong").status_code for _ in range(times)][-1]


def sign_in(site: Site, client: FlaskClient) -> int:
    return post(client, STAFF_DOOR, name=TESS, password=site.secrets[TESS].secret).status_code


def signed_out(site: Site) -> FlaskClient:
    """A browser in which Tess has signed in, and out again."""
    client = site.signed_in(TESS)
    post(client, "/sign-out")
    return client


def test_a_stranger_cannot_keep_a_teacher_out_of_her_own_browser(site: Site) -> None:
    own, stranger = signed_out(site), site.visitor()
    assert guess(stranger, 4) == 429
    assert sign_in(site, stranger) == 429
    assert sign_in(site, own) == 302


def test_signing_in_there_does_not_set_the_stranger_free(site: Site) -> None:
    own, stranger = signed_out(site), site.visitor()
    guess(stranger, 4)
    sign_in(site, own)
    assert sign_in(site, stranger) == 429


def test_signing_in_gives_no_fresh_tries_in_a_browser_that_others_use_too(site: Site) -> None:
    own = signed_out(site)
    guess(own, 2)
    assert sign_in(site, own) == 302
    post(own, "/sign-out")
    assert guess(own, 1) == 429


def test_in_a_known_browser_waits_grow_as_everywhere(site: Site) -> None:
    own = signed_out(site)
    assert guess(own, 3) == 429
    assert sign_in(site, own) == 429
    assert sign_in(site, site.visitor()) == 302


def test_a_browser_is_known_for_those_who_signed_in_there_and_for_nobody_else(site: Site) -> None:
    owens = site.signed_in("Owen Reed")
    post(owens, "/sign-out")
    guess(owens, 4)
    assert sign_in(site, owens) == 429
    assert sign_in(site, site.visitor()) == 429


@pytest.mark.parametrize("forged", ["x", "", "a.b.c", URLSafeSerializer("other", salt="browser").dumps("t")])
def test_a_cookie_that_is_not_ours_is_no_known_browser(site: Site, forged: str) -> None:
    client = site.visitor()
    client.set_cookie(browsers.COOKIE, str(forged), path="/sign-in")
    guess(client, 4)
    assert sign_in(site, site.visitor()) == 429


def test_the_cookie_goes_to_the_sign_in_alone_and_no_script_reads_it(site: Site) -> None:
    answer = post(site.visitor(), STAFF_DOOR, name=TESS, password=site.secrets[TESS].secret)
    (cookie,) = [one for one in answer.headers.getlist("Set-Cookie") if one.startswith(browsers.COOKIE)]
    for flag in ("HttpOnly", "SameSite=Lax", "Path=/sign-in", "Max-Age=15552000"):
        assert flag in cookie
    with site.records.read() as session:
        assert session.query(Browser).one().token_hash not in cookie


def test_sign_out_everywhere_ends_sessions_and_forgets_browsers(site: Site) -> None:
    first, second = site.signed_in(TESS), site.signed_in(TESS)
    assert "in 2 browsers" in first.get("/account").text
    assert post(first, "/account/sign-out-everywhere").status_code == 302
    assert second.get("/staff").status_code == 302
    guess(site.visitor(), 4)
    assert sign_in(site, second) == 429


def test_a_new_password_forgets_browsers(site: Site) -> None:
    signed_out(site)
    post(site.signed_in("Cora Vale"), f"/staff/office/people/{site.ids[TESS]}/password")
    with site.records.read() as session:
        assert session.query(Browser).filter_by(person_id=site.ids[TESS]).count() == 0


def test_the_coordinator_is_told_of_wrong_tries_for_staff_and_teachers_are_not(site: Site) -> None:
    stranger = site.visitor()
    for _ in range(ALARM_AFTER):
        with site.records.write() as session:
            session.get_one(Person, site.ids[TESS]).locked_until = None
        guess(stranger, 1)
    said = f"{ALARM_AFTER} wrong passwords were tried for Tess Birch."
    coordinator = site.signed_in("Cora Vale")
    assert said in coordinator.get("/staff").text
    assert said not in site.signed_in("Owen Reed").get("/staff").text
    with site.records.read() as session:
        number = session.query(Notice).one().id
    assert post(site.signed_in("Owen Reed"), f"/notices/{number}/settle").status_code == 404
    assert post(coordinator, f"/notices/{number}/settle").status_code == 303


def test_the_newest_browsers_are_kept_and_old_ones_forgotten(either: Records) -> None:
    with either.write() as session:
        person = Person(role=TEACHER, name="Tess", sign_in_name="tess", secret_hash="none")
        session.add(person)
        session.flush()
        old = now() - browsers.KEPT - timedelta(days=1)
        session.add(Browser(token_hash="old", person_id=person.id, seen_at=old))
        for number in range(browsers.MOST + 3):
            browsers.remember(session, f"token {number}", person.id)
        assert browsers.count(session, person.id) == browsers.MOST
        assert session.get(Browser, ("old", person.id)) is None
        assert browsers.known(session, browsers.hashed(f"token {browsers.MOST + 2}"), person.id) is not None
