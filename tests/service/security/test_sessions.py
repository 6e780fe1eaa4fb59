"""A session that was planted, stolen, or made up."""

from __future__ import annotations

import dataclasses
import re
from pathlib import Path

from flask.sessions import SecureCookieSessionInterface
from flask.testing import FlaskClient

from service.app import create_app
from service.people.guards import IDLE_S, LONGEST_S
from service.records.models import Person
from tests.service.site import Site, StubSender, post, settings_for

OWN = "Ada Fern"


def cookie(client: FlaskClient) -> str:
    found = client.get_cookie("kingpost")
    assert found is not None
    return found.value


def with_cookie(site: Site, value: str) -> FlaskClient:
    client = site.visitor()
    client.set_cookie("kingpost", value)
    return client


def is_in(client: FlaskClient) -> bool:
    return client.get("/desk").location != "/sign-in"


def test_a_session_that_was_planted_before_the_sign_in_is_worth_nothing_after_it(site: Site) -> None:
    client = site.visitor()
    client.get("/sign-in")
    planted = cookie(client)
    one = site.secrets[OWN]
    post(client, "/sign-in", class_code=one.class_code, passphrase=one.secret)
    assert is_in(client)
    assert cookie(client) != planted
    assert not is_in(with_cookie(site, planted))


def test_a_token_from_before_the_sign_in_does_not_fit_the_session_after_it(site: Site) -> None:
    from tests.service.site import token

    client, one = site.visitor(), site.secrets[OWN]
    before = token(client)
    post(client, "/sign-in", class_code=one.class_code, passphrase=one.secret)
    assert client.post("/alias", data={"csrf_token": before, "alias": "x"}).status_code == 400


def test_a_stolen_session_ends_with_the_sign_out_and_with_new_words(site: Site) -> None:
    for end in ("sign out", "new words", "left the class"):
        ada = site.signed_in(OWN)
        stolen = with_cookie(site, cookie(ada))
        assert is_in(stolen)
        if end == "sign out":
            post(ada, "/sign-out")
        elif end == "new words":
            answer = post(site.signed_in("Tess Birch"), f"/staff/students/{site.ids[OWN]}/passphrase")
            with site.records.read() as session:
                handle = session.get_one(Person, site.ids[OWN]).handle
            (phrase,) = set(re.findall(rf"\b{handle}-[a-z]+-[a-z]+\b", answer.text))
            site.secrets[OWN] = dataclasses.replace(site.secrets[OWN], secret=phrase)
        else:
            post(site.signed_in("Tess Birch"), f"/staff/students/{site.ids[OWN]}/leave")
        assert not is_in(stolen), end


def test_a_stolen_session_ends_by_itself(site: Site, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    import time

    stolen = cookie(site.signed_in(OWN))
    begun = time.time()
    for later in (IDLE_S + 61, LONGEST_S + 61):
        monkeypatch.setattr("service.people.guards.time.time", lambda later=later: begun + later)
        assert not is_in(with_cookie(site, stolen))


def test_a_session_cannot_be_made_up_or_altered(site: Site, tmp_path: Path) -> None:
    real = cookie(site.signed_in(OWN))
    other = create_app(settings_for(site.records, tmp_path / "other"), StubSender())
    signer = SecureCookieSessionInterface().get_signing_serializer(other)
    assert signer is not None
    forged = signer.dumps({"person": site.ids["Cora Vale"], "key": "0" * 32, "since": 2**31, "seen": 2**31})
    head, _, rest = real.partition(".")
    for value in (
        forged,
        f"{head[:-2]}AA.{rest}",
        f"{real[:-9]}{'A' if real[-9] != 'A' else 'B'}{real[-8:]}",
        "",
        "x" * 4000,
    ):
        assert not is_in(with_cookie(site, value))


def test_the_session_holds_a_number_and_a_key_and_no_name(site: Site) -> None:
    signer = SecureCookieSessionInterface().get_signing_serializer(site.app)
    assert signer is not None
    held = signer.loads(cookie(site.signed_in(OWN)))
    assert set(held) <= {"person", "key", "since", "seen", "csrf_token"}
    assert held["person"] == site.ids[OWN]
