"""Guessing passphrases for a day and for a week: how many guesses get through, and the odds of one being right.

The odds are printed: ``pytest -s tests/service/security/test_guessing.py``.
"""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from service.people import sign_in, strangers
from service.people.passwords import WORDS_IN_PHRASE, WORDS_IN_STAFF_PASSWORD, new_phrase
from service.people.sign_in import ALARM_AFTER, HALVED_AFTER, Welcome, Wrong, staff_sign_in, student_sign_in
from service.records.acts import Tries
from service.records.models import Notice, Person
from service.words import PASSPHRASE_WORDS
from tests.service.site import Site

DAY = timedelta(days=1)
MORNING = datetime(2027, 3, 1, 8)

WORDS = len(PASSPHRASE_WORDS)
REST = (WORDS - 1) * (WORDS - 2)
"""Second and third word, where the first one is known."""


class Clock:
    """Stands still until it is moved."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.moment = MORNING
        monkeypatch.setattr(sign_in, "now", lambda: self.moment)
        self.right = ""
        monkeypatch.setattr(sign_in, "fits", lambda _, secret: secret == self.right)


def guess_for(site: Site, clock: Clock, code: str, handle: str, until: datetime) -> int:
    """Guess as fast as the waits allow; how many guesses were looked at."""
    looked = 0
    while clock.moment < until:
        answer = student_sign_in(site.records.write, code, f"{handle} no way")
        assert isinstance(answer, Wrong)
        looked += answer.looked
        clock.moment += timedelta(seconds=answer.wait_s)
    return looked


def test_a_day_of_guessing_at_one_account_and_at_a_class(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    clock, handle = Clock(monkeypatch), site.secrets["Ada Fern"].secret.split("-")[0]
    first = guess_for(site, clock, "8B", handle, MORNING + DAY)
    later = guess_for(site, clock, "8B", handle, MORNING + 2 * DAY)
    # The attacker is given the first word; the waits do not tell which of the 512 are real.
    account, school_class = first / REST, 1 - (1 - first / REST) ** 30
    print(f"\nguesses a day at one account: {first} on the first, {later} on each later day, of {REST}")
    print(f"odds a day: one account 1 in {1 / account:.0f}; some account of a class of 30: {100 * school_class:.2f} %")
    assert first < 60
    assert later < 30
    assert account < 1 / 4000
    assert school_class < 0.01


def test_a_week_of_guessing_while_the_pupil_signs_in_each_day(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    clock = Clock(monkeypatch)
    clock.right, looked = site.secrets["Ada Fern"].secret, []
    for day in range(1, 8):
        assert isinstance(student_sign_in(site.records.write, "8B", clock.right), Welcome)  # at once: no pause runs
        looked.append(guess_for(site, clock, "8B", clock.right.split("-")[0], MORNING + day * DAY))
    account, school_class = sum(looked) / REST, 1 - (1 - sum(looked) / REST) ** 30
    print(f"\nguesses at one account, day by day, while the pupil signs in each morning: {looked}")
    print(f"odds a week: one account 1 in {1 / account:.0f}; some account of a class of 30: {100 * school_class:.2f} %")
    assert looked[0] < 60
    assert max(looked[1:]) < 30  # no fresh tries
    assert account < 1 / 1200
    assert school_class < 0.025


@pytest.mark.parametrize("most", [1, 4, 9, 12])
def test_pausing_until_the_count_has_faded_gains_nothing(
    site: Site, monkeypatch: pytest.MonkeyPatch, most: int
) -> None:
    clock, word, looked, tries = Clock(monkeypatch), site.secrets["Ada Fern"].secret.split("-")[0], 0, 0
    while clock.moment < MORNING + 7 * DAY:
        if tries >= most:
            clock.moment, tries = clock.moment + HALVED_AFTER, tries // 2
        answer = student_sign_in(site.records.write, "8B", f"{word} no way")
        looked, tries = looked + 1, tries + 1
        clock.moment += timedelta(seconds=answer.wait_s if isinstance(answer, Wrong) else 0)
    with site.records.read() as session:
        told = session.query(Notice).count()
    print(f"\na week of guesses never past {most}: {looked}, of which the teacher was told {told} times")
    assert looked < (60 if most < ALARM_AFTER else 90)
    assert bool(told) == (most >= ALARM_AFTER)


def test_the_teacher_is_told_on_the_first_day(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    clock, handle = Clock(monkeypatch), site.secrets["Ada Fern"].secret.split("-")[0]
    guess_for(site, clock, "8B", handle, MORNING + timedelta(hours=1))
    with site.records.read() as session:
        (notice,) = session.query(Notice).all()
    assert notice.person_id == site.ids["Ada Fern"]


def answers(site: Site, clock: Clock, code: str, word: str, times: int = 14) -> list[int]:
    """The waits after tries as fast as they allow; the pupil signs in before each of them."""
    waits = []
    for _ in range(times):
        assert not clock.right or isinstance(student_sign_in(site.records.write, "8B", clock.right), Welcome)
        answer = student_sign_in(site.records.write, code, f"{word} no way")
        assert answer == Wrong(answer.wait_s, looked=True)
        waits.append(answer.wait_s)
        early = student_sign_in(site.records.write, code, f"{word} no way") if answer.wait_s else None
        assert early in (None, Wrong(answer.wait_s + 1, looked=False))
        clock.moment += timedelta(seconds=answer.wait_s)
    return waits


def test_a_first_word_that_nobody_has_answers_like_one_that_somebody_has(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock, known = Clock(monkeypatch), site.secrets["Ada Fern"].secret.split("-")[0]
    taken = {one.secret.split("-")[0] for one in site.secrets.values()}
    unknown = next(word for word in PASSPHRASE_WORDS if word not in taken)
    clock.right = site.secrets["Ada Fern"].secret
    real = answers(site, clock, "8B", known)
    assert real == answers(site, clock, "8B", unknown) == answers(site, clock, "NO SUCH", unknown)
    assert real[-1] == sign_in.LONGEST_WAIT_S


def test_a_name_that_none_of_the_staff_has_answers_like_one_that_somebody_has(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    Clock(monkeypatch)
    tried = [[staff_sign_in(site.records.write, name, "no") for _ in range(5)] for name in ("Tess Birch", "Nobody")]
    assert tried[0] == tried[1]


def test_tries_at_accounts_that_are_not_there_hold_up_nobody_and_tell_no_teacher(site: Site) -> None:
    taken = {one.secret.split("-")[0] for one in site.secrets.values()}
    for word in [word for word in PASSPHRASE_WORDS if word not in taken][:20]:
        for _ in range(4):
            student_sign_in(site.records.write, "8B", f"{word} no way")
    site.signed_in("Ada Fern")
    with site.records.read() as session:
        assert session.query(Notice).count() == 0


def test_what_is_kept_of_such_tries_is_bounded_and_swept(site: Site) -> None:
    for n in range(300):
        student_sign_in(site.records.write, f"X{n}", f"{PASSPHRASE_WORDS[0]} no way")
        student_sign_in(site.records.write, "8B", f"noword{n} no way")
    with site.records.write() as session:
        assert 0 < session.query(Tries).count() <= strangers.NO_CLASSES
        strangers.forget_old(session, datetime(2099, 1, 1))
        assert session.query(Tries).count() == 0


def test_a_day_of_guessing_at_the_staff(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    clock, looked = Clock(monkeypatch), 0
    while clock.moment < MORNING + DAY:
        answer = staff_sign_in(site.records.write, "Tess Birch", "no way at all")
        assert isinstance(answer, Wrong)
        looked += answer.looked
        clock.moment += timedelta(seconds=answer.wait_s)
    print(f"\nguesses a day at a teacher: {looked}, of {WORDS**WORDS_IN_STAFF_PASSWORD:.1e}")
    assert looked / WORDS**WORDS_IN_STAFF_PASSWORD < 1e-11


def test_two_guesses_in_the_same_instant_are_two(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    clock, handle = Clock(monkeypatch), site.secrets["Ada Fern"].secret.split("-")[0]
    answers = [student_sign_in(site.records.write, "8B", f"{handle} a b") for _ in range(50)]
    assert sum(answer.looked for answer in answers if isinstance(answer, Wrong)) == 3
    assert clock.moment == MORNING
    with site.records.read() as session:
        assert session.get_one(Person, site.ids["Ada Fern"]).failed_tries == 3


def test_a_passphrase_is_three_words_of_the_list_chosen_evenly() -> None:
    assert WORDS == len(set(PASSPHRASE_WORDS)) == 512
    phrases = [new_phrase(()).split("-") for _ in range(3000)]
    assert all(len(set(words)) == WORDS_IN_PHRASE for words in phrases)
    seen = {word for words in phrases for word in words}
    assert len(seen) == WORDS
