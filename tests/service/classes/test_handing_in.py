"""A file taken in: stored as it came, once, and never with a crash."""

from __future__ import annotations

import threading
from contextlib import contextmanager
from datetime import timedelta
from io import BytesIO
from typing import Any

import pytest
from sqlalchemy.exc import IntegrityError, OperationalError

from rubric.messages.names import MARK
from service import web
from service.classes import handing_in
from service.classes.handing_in import MOST_ATTEMPTS, MOST_BYTES, NotTaken, hand_in, plain_file_name
from service.records.engine import Records
from service.records.models import RECEIVED, WAITING, Assignment, Job, Submission, now
from tests.service import rows
from tests.service.site import GIRDER, Site, post, token


def submissions(site: Site) -> list[Submission]:
    with site.records.read() as session:
        return session.query(Submission).order_by(Submission.id).all()


def answer_to(site: Site, **fields: Any) -> Any:
    return post(site.signed_in("Ada Fern"), f"/assignments/{site.assignment}/attempts", **fields)


def set_dates(site: Site, **dates: Any) -> None:
    with site.records.write() as session:
        for name, value in dates.items():
            setattr(session.get_one(Assignment, site.assignment), name, value)
        given = session.get_one(Assignment, site.assignment)
        given.newest.due = given.due


def test_a_file_is_kept_byte_for_byte_with_its_job_before_it_is_sent(site: Site) -> None:
    site.sender.sent.clear()
    data = b"\xef\xbb\xbf\xff\x00not a truss"
    answer = answer_to(site, file=(BytesIO(data), "bridge.yaml"))
    assert answer.status_code == 303
    with site.records.read() as session:
        kept, job = session.query(Submission).one(), session.query(Job).filter_by(kind=MARK).one()
        assert (kept.file, kept.file_name, kept.state, kept.number) == (data, "bridge.yaml", RECEIVED, 1)
        assert (job.subject_id, job.state) == (kept.id, WAITING)
    assert [sent.id for sent in site.sender.sent] == [job.id]


def test_pasted_text_is_taken_where_no_file_was_chosen(site: Site) -> None:
    answer_to(site, text=GIRDER.decode(), file=(BytesIO(b""), ""))
    with site.records.read() as session:
        kept = session.query(Submission).one()
        assert (kept.file.replace(b"\r\n", b"\n"), kept.file_name) == (GIRDER, "pasted text")


def test_a_chosen_file_goes_before_pasted_text(site: Site) -> None:
    answer_to(site, text="joints:", file=(BytesIO(GIRDER), "girder.csv"))
    assert submissions(site)[0].file_name == "girder.csv"


def test_nothing_is_refused_kindly_and_keeps_nothing(site: Site) -> None:
    for fields in ({"text": ""}, {"text": " \n"}, {"file": (BytesIO(b""), "empty.yaml")}):
        answer = answer_to(site, **fields)
        assert answer.status_code == 422
        assert "There was nothing in it. Choose your truss file, or paste its text." in answer.text
    assert submissions(site) == []


def test_a_file_over_64_kb_is_refused_before_it_is_kept(site: Site) -> None:
    answer = answer_to(site, file=(BytesIO(b"a" * (MOST_BYTES + 1)), "big.yaml"))
    assert answer.status_code == 413
    assert "That file has 65 KB. A truss file has at most 64 KB" in answer.text
    assert submissions(site) == []


def test_a_picture_is_refused_on_a_page_of_our_own(site: Site) -> None:
    answer = answer_to(site, file=(BytesIO(b"x" * 300_000), "bridge.jpg"))
    assert answer.status_code == 413
    assert "That is too large" in answer.text
    assert "Nothing was saved." in answer.text


def test_a_file_of_exactly_64_kb_is_taken(site: Site) -> None:
    assert answer_to(site, file=(BytesIO(b"a" * MOST_BYTES), "big.yaml")).status_code == 303


def test_before_it_opens_nothing_is_taken_and_the_date_is_said_on_the_schools_clock(site: Site) -> None:
    opens = now().replace(year=now().year + 1, month=7, day=1, hour=8, minute=30)
    set_dates(site, opens=opens)
    answer = answer_to(site, text=GIRDER.decode())
    assert answer.status_code == 403
    assert f"July {opens.year}, 09:30" in answer.text
    assert submissions(site) == []


def test_after_the_due_date_a_file_is_taken_and_marked_late(site: Site) -> None:
    set_dates(site, due=now() - timedelta(hours=1))
    answer = answer_to(site, text=GIRDER.decode())
    assert answer.status_code == 303
    assert "<strong>late</strong>" in site.signed_in("Ada Fern").get(answer.location).text


def test_a_double_click_is_one_attempt_and_says_so(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    first, second = site.hand_in(client), site.hand_in(client)
    assert first == second
    assert "It counts once." in client.get(f"/attempts/{second}").text
    assert len(submissions(site)) == 1


def test_the_same_file_later_is_a_new_attempt(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    first = site.hand_in(client)
    with site.records.write() as session:
        session.get_one(Submission, first).handed_in -= timedelta(minutes=1)
    assert site.hand_in(client) != first


def test_another_file_at_once_is_a_new_attempt(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    numbers = [site.hand_in(client, GIRDER + b"# %d" % n) for n in range(3)]
    assert [found.number for found in submissions(site)] == [1, 2, 3]
    assert len(set(numbers)) == 3


def test_after_fifty_attempts_the_next_is_refused(site: Site) -> None:
    student, given = site.ids["Ada Fern"], site.assignment
    for number in range(MOST_ATTEMPTS):
        hand_in(site.records.write, student, given, "a.yaml", b"%d" % number)
    answer = answer_to(site, text="one more")
    assert answer.status_code == 422
    assert "You have handed in 50 times, which is the most there is." in answer.text


def test_hand_ins_in_the_same_instant_are_all_kept_under_their_own_numbers(either: Records) -> None:
    with either.write() as session:
        given = rows.assignment(session)
        student = rows.student(session, given)
    faults: list[Exception] = []

    def one(number: int) -> None:
        try:
            hand_in(either.write, student.id, given.id, "a.yaml", b"%d" % number)
        except Exception as error:
            faults.append(error)

    threads = [threading.Thread(target=one, args=(number,)) for number in range(8)]
    [thread.start() for thread in threads]
    [thread.join() for thread in threads]
    with either.read() as session:
        numbers = sorted(number for (number,) in session.query(Submission.number))
    assert (faults, numbers) == ([], list(range(1, 9)))


def test_a_number_taken_by_another_hand_in_is_chosen_again(site: Site) -> None:
    calls = []

    @contextmanager
    def writing():  # type: ignore[no-untyped-def]
        calls.append(1)
        if len(calls) < 3:
            raise IntegrityError("insert", {}, Exception("UNIQUE"))
        with site.records.write() as session:
            yield session

    assert hand_in(writing, site.ids["Ada Fern"], site.assignment, "a", b"x").job is not None
    assert len(calls) == 3


def test_where_no_number_can_be_had_the_student_is_told_that_nothing_was_saved(site: Site) -> None:
    def writing():  # type: ignore[no-untyped-def]
        raise IntegrityError("insert", {}, Exception("UNIQUE"))

    with pytest.raises(NotTaken, match=r"Nothing was saved of this one\. Hand it in again\."):
        hand_in(writing, site.ids["Ada Fern"], site.assignment, "a", b"x")


def test_a_full_disk_says_that_nothing_was_saved_and_to_keep_the_file(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    client = site.signed_in("Ada Fern")
    given = token(client)

    class Full(Exception):
        sqlite_errorname = "SQLITE_FULL"

    def writing() -> None:
        raise OperationalError("insert", {}, Full())

    monkeypatch.setattr(web, "writing", writing)
    answer = client.post(f"/assignments/{site.assignment}/attempts", data={"csrf_token": given, "text": "a"})
    assert answer.status_code == 507
    assert "Nothing was saved. Keep your file" in answer.text


def test_a_form_without_our_token_is_refused(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    answer = client.post(f"/assignments/{site.assignment}/attempts", data={"text": GIRDER})
    assert answer.status_code == 400
    assert "That was not sent" in answer.text
    assert submissions(site) == []


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        ("C:\\Users\\me\\bridge.yaml", "bridge.yaml"),
        ("../../etc/passwd", "passwd"),
        ("a\x00b\u202egnp.yaml", "abgnp.yaml"),
        ("", "file"),
        ("..", "file"),
        ("x" * 300, "x" * 200),
    ],
)
def test_a_file_name_is_its_last_part_without_tricks(given: str, kept: str) -> None:
    assert plain_file_name(given) == kept


def test_the_limits_are_those_of_the_reader() -> None:
    from rubric.located import MOST_BYTES as reader_takes

    assert reader_takes == handing_in.MOST_BYTES
