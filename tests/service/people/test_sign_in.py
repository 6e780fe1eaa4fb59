"""Signing in: spellings, growing waits, sessions."""

from __future__ import annotations

from datetime import timedelta

import pytest
from werkzeug.test import TestResponse

from service.people import sign_in
from service.people.sign_in import (
    ALARM_AFTER,
    HALVED_AFTER,
    LONGEST_WAIT_S,
    Welcome,
    Wrong,
    faded,
    staff_sign_in,
    student_sign_in,
    wait_after,
)
from service.records.models import Notice, Person, now
from service.saying import notice_said
from tests.service.site import Site, post

ADA = "Ada Fern"


def wrong_tries(site: Site, count: int) -> TestResponse:
    client, code = site.visitor(), site.secrets[ADA].class_code
    handle = site.secrets[ADA].secret.split("-")[0]
    for _ in range(count):
        set_free(site)
        answer = post(client, "/sign-in", class_code=code, passphrase=f"{handle} wrong words")
    return answer


def set_free(site: Site) -> None:
    with site.records.write() as session:
        session.get_one(Person, site.ids[ADA]).locked_until = None


@pytest.mark.parametrize("spelt", [str.upper, lambda s: s.replace("-", " "), lambda s: f"  {s.title()} . "])
def test_a_passphrase_may_be_typed_in_any_case_with_spaces_or_hyphens(site: Site, spelt) -> None:  # type: ignore[no-untyped-def]
    one = site.secrets[ADA]
    found = student_sign_in(site.records.write, " 8 b ", spelt(one.secret))
    assert isinstance(found, Welcome)
    assert found.person_id == site.ids[ADA]


@pytest.mark.parametrize(
    ("code", "phrase"), [("9C", None), ("8B", "acorn-acorn-acorn"), ("8B", ""), ("", None), ("8B", "-")]
)
def test_a_wrong_class_or_phrase_lets_nobody_in(site: Site, code: str, phrase: str | None) -> None:
    found = student_sign_in(site.records.write, code, site.secrets[ADA].secret if phrase is None else phrase)
    assert isinstance(found, Wrong)


def test_staff_sign_in_by_name_in_any_case(site: Site) -> None:
    assert isinstance(staff_sign_in(site.records.write, " tess  BIRCH", site.secrets["Tess Birch"].secret), Welcome)
    assert isinstance(staff_sign_in(site.records.write, "Tess Birch", site.secrets["Owen Reed"].secret), Wrong)


def test_a_student_cannot_come_in_by_the_staff_door(site: Site) -> None:
    assert isinstance(staff_sign_in(site.records.write, ADA, site.secrets[ADA].secret), Wrong)


def test_waits_grow_and_stay_below_the_longest() -> None:
    waits = [wait_after(tries) for tries in range(1, 100)]
    assert waits[:5] == [0, 0, 4, 8, 16]
    assert waits == sorted(waits)
    assert waits[-1] == LONGEST_WAIT_S


def test_after_three_wrong_tries_the_page_says_how_long_to_wait(site: Site) -> None:
    answer = wrong_tries(site, 3)
    assert answer.status_code == 429
    assert answer.headers["Retry-After"] == "4"
    assert "Wait 4 seconds, then try again." in answer.text


def test_a_try_during_the_wait_is_not_looked_at_even_if_right(site: Site) -> None:
    wrong_tries(site, 4)
    one = site.secrets[ADA]
    answer = post(site.visitor(), "/sign-in", class_code="8B", passphrase=one.secret)
    assert answer.status_code == 429
    assert "Too early: this try was not looked at." in answer.text
    assert "Wait 8 seconds" in answer.text or "Wait 7 seconds" in answer.text


def test_the_wait_of_one_account_holds_up_nobody_else(site: Site) -> None:
    wrong_tries(site, 6)
    assert site.signed_in("Ben Holt").get("/desk").status_code == 302


def test_a_right_try_after_the_wait_goes_through_and_leaves_the_count_as_it_was(site: Site) -> None:
    wrong_tries(site, 5)
    ended = now() - timedelta(minutes=1)
    with site.records.write() as session:
        session.get_one(Person, site.ids[ADA]).locked_until = ended
    site.signed_in(ADA)
    with site.records.read() as session:
        person = session.get_one(Person, site.ids[ADA])
        assert (person.failed_tries, person.locked_until) == (5, ended)


def test_a_right_try_takes_nothing_back_of_what_somebody_else_tried_in_the_same_instant(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    def look(secret_hash: str | None, secret: str) -> bool:
        if secret != site.secrets[ADA].secret:
            return False
        student_sign_in(site.records.write, "8B", f"{secret.split('-')[0]} wrong words")
        return True

    monkeypatch.setattr(sign_in, "fits", look)
    assert isinstance(student_sign_in(site.records.write, "8B", site.secrets[ADA].secret), Welcome)
    with site.records.read() as session:
        assert session.get_one(Person, site.ids[ADA]).failed_tries == 1


def test_a_count_is_halved_with_each_quiet_stretch_and_never_before_its_pause_has_ended() -> None:
    ended = now()
    left = [faded(12, ended, ended + quiet * HALVED_AFTER) for quiet in (-5, 0, 0.99, 1, 2, 3, 4, 10_000)]
    assert left == [12, 12, 12, 6, 3, 1, 0, 0]
    assert faded(2, None, ended) == 2


def test_slips_of_yesterday_cost_no_wait_today(site: Site) -> None:
    wrong_tries(site, 3)
    with site.records.write() as session:
        session.get_one(Person, site.ids[ADA]).locked_until = now() - timedelta(hours=23)
    answer = post(site.visitor(), "/sign-in", class_code="8B", passphrase=site.secrets[ADA].secret + "x")
    assert answer.status_code == 403


def test_many_tries_at_once_are_each_counted_before_the_secret_is_looked_at(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = []

    def look(secret_hash: str | None, secret: str) -> bool:
        with site.records.read() as session:
            seen.append(session.get_one(Person, site.ids[ADA]).failed_tries)
        return False

    monkeypatch.setattr(sign_in, "fits", look)
    wrong_tries(site, 2)
    assert seen == [1, 2]


def test_ten_wrong_tries_tell_the_teacher_once(site: Site) -> None:
    wrong_tries(site, ALARM_AFTER + 2)
    with site.records.read() as session:
        texts = [notice_said(notice.text, notice.values) for notice in session.query(Notice)]
    assert texts == ["10 wrong passphrases were tried for Ada Fern. If it was not a slip, give them a new passphrase."]


def test_right_words_tell_no_teacher_and_a_count_that_hovers_tells_once_a_day(site: Site) -> None:
    wrong_tries(site, ALARM_AFTER - 1)
    set_free(site)
    site.signed_in(ADA)
    for _ in range(3):
        with site.records.write() as session:
            session.get_one(Person, site.ids[ADA]).failed_tries = ALARM_AFTER - 1
        wrong_tries(site, 1)
    with site.records.read() as session:
        assert session.query(Notice).count() == 1


def test_an_account_that_is_not_there_costs_a_hash_too(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    looked = []
    monkeypatch.setattr(sign_in, "fits", lambda hashed, secret: bool(looked.append(hashed)))
    student_sign_in(site.records.write, "8B", "nobody here now")
    assert looked == [None]


def test_signing_in_leaves_nothing_of_the_session_before(site: Site) -> None:
    client = site.visitor()
    client.get("/sign-in")
    with client.session_transaction() as before:
        before["planted"] = "by somebody else"
        old = before["csrf_token"]
    one = site.secrets[ADA]
    post(client, "/sign-in", class_code=one.class_code, passphrase=one.secret)
    with client.session_transaction() as after:
        assert "planted" not in after
        assert after.get("csrf_token") != old


def test_signing_out_ends_the_sessions_of_every_computer(site: Site) -> None:
    here, there = site.signed_in(ADA), site.signed_in(ADA)
    assert post(here, "/sign-out").location == "/signed-out"
    assert here.get("/desk").location == "/sign-in"
    assert there.get("/desk").location == "/sign-in"


@pytest.mark.parametrize(("field", "ago"), [("seen", 2 * 3600 + 5), ("since", 12 * 3600 + 5)])
def test_a_session_ends_after_two_idle_hours_and_after_twelve_in_all(site: Site, field: str, ago: int) -> None:
    client = site.signed_in(ADA)
    with client.session_transaction() as kept:
        kept[field] -= ago
    assert client.get("/desk").location == "/sign-in"


def test_a_lock_that_has_run_out_is_no_lock(site: Site) -> None:
    with site.records.write() as session:
        session.get_one(Person, site.ids[ADA]).locked_until = now() - timedelta(seconds=1)
    assert site.signed_in(ADA).get("/desk").status_code == 302


def test_a_name_typed_by_somebody_else_is_shown_as_text(site: Site) -> None:
    answer = post(site.visitor(), "/sign-in/staff", name="<script>x</script>", password="not it at all")
    assert answer.status_code == 403
    assert "<script>x" not in answer.text
