"""A student looks at a file before handing it in."""

from __future__ import annotations

from datetime import timedelta

import pytest

from rubric.messages.outcomes import Sketched
from service.classes.sketches import KEPT, LEAST_PAUSE, PATIENCE, AskedTooSoon, ask, forget_old, keep_answer, stage
from service.records.engine import Records
from service.records.models import Person, Sketch, Submission, now
from tests.service import rows
from tests.service.site import GIRDER, MECHANISM, MISTAKEN, Site, post


def page(site: Site) -> str:
    return f"/assignments/{site.assignment}"


def earlier(site: Site, by: timedelta) -> None:
    """Let the only sketch have been asked for that much earlier."""
    with site.records.write() as session:
        session.query(Sketch).one().asked_at -= by


def kept(site: Site) -> int:
    with site.records.read() as session:
        return session.query(Sketch).count()


def test_by_the_button_the_page_waits_and_then_shows_what_was_understood(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    answer = post(client, f"{page(site)}/look", text=MISTAKEN.decode())
    assert (answer.status_code, answer.location) == (303, f"{page(site)}#hand-in")
    waiting = client.get(page(site)).text
    assert "Your text is being looked at." in waiting
    assert 'http-equiv="refresh"' in waiting
    site.work()
    done = client.get(page(site)).text
    assert "Understood: 8 joints and 13 members. 1 place to mend." in done
    assert '<a href="#text" data-line="6" data-column="8">Line 6, column 8</a>' in done
    assert "c-e: sqare5" in done.partition("<textarea")[2].partition("</textarea>")[0]


def test_looking_hands_nothing_in(site: Site) -> None:
    post(site.signed_in("Ada Fern"), f"{page(site)}/look", text=GIRDER.decode())
    site.work()
    with site.records.read() as session:
        assert session.query(Submission).count() == 0


def test_a_file_that_is_chosen_comes_into_the_field(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    from io import BytesIO

    post(client, f"{page(site)}/look", file=(BytesIO(MECHANISM), "b.yaml"))
    site.work()
    said = client.get(page(site)).text
    assert "Double-post girder" in said.partition("<textarea")[2]
    assert "It does not stand yet." in said
    assert "Add a member from joint b to joint h" in said


def test_a_script_gets_what_stands_beside_the_text_alone(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    asked = post(client, f"{page(site)}/look", text=GIRDER.decode(), quiet="1")
    assert asked.text.startswith('<div id="looked"')
    assert 'data-look="waiting"' in asked.text
    site.work()
    seen = client.get(f"{page(site)}/look").text
    assert 'data-said="Understood: 8 joints and 13 members. It stands."' in seen
    assert "It keeps the limits that a drawing can show." in seen


def test_two_looks_within_a_second_are_one(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    post(client, f"{page(site)}/look", text=GIRDER.decode(), quiet="1")
    again = post(client, f"{page(site)}/look", text="title: x", quiet="1")
    assert (again.status_code, again.headers["Retry-After"]) == (429, "1")
    plain = post(client, f"{page(site)}/look", text="title: x")
    assert plain.status_code == 429
    assert "title: x" in plain.text
    earlier(site, LEAST_PAUSE)
    assert post(client, f"{page(site)}/look", text="title: x", quiet="1").status_code == 200


@pytest.mark.parametrize(("text", "status"), [("", 422), (" \n", 422), ("x" * 70_000, 413)])
def test_what_cannot_be_a_file_is_told_at_once(site: Site, text: str, status: int) -> None:
    client = site.signed_in("Ada Fern")
    answer = post(client, f"{page(site)}/look", text=text, quiet="1")
    assert (answer.status_code, kept(site)) == (status, 0)
    assert 'role="alert"' in post(client, f"{page(site)}/look", text=text).text


def test_where_no_answer_comes_the_page_says_so_and_the_text_is_safe(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    post(client, f"{page(site)}/look", text=GIRDER.decode())
    earlier(site, PATIENCE)
    said = client.get(page(site)).text
    assert "could not be looked at just now" in said
    assert "Double-post girder" in said


def test_handing_in_and_signing_out_forget_what_was_typed(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    post(client, f"{page(site)}/look", text=GIRDER.decode())
    site.hand_in(client)
    assert kept(site) == 0
    post(client, f"{page(site)}/look", text=GIRDER.decode())
    post(client, "/sign-out")
    assert kept(site) == 0


def test_nobody_sees_what_another_student_types(site: Site) -> None:
    post(site.signed_in("Ada Fern"), f"{page(site)}/look", text=GIRDER.decode())
    site.work()
    other = site.signed_in("Ben Holt")
    assert 'data-look="none"' in other.get(f"{page(site)}/look").text
    assert "Double-post" not in other.get(page(site)).text


def student(records: Records) -> tuple[int, int]:
    with records.write() as session:
        job = rows.handed_in(session)
        found = session.get_one(Submission, job.subject_id)
        return found.student_id, found.assignment_id


def test_a_newer_text_replaces_the_older_and_its_answer_alone_counts(either: Records) -> None:
    person, assignment = student(either)
    with either.write() as session:
        first = ask(session, person, assignment, b"one")
        old = Sketched(job=first.id, attempt=first.attempt)
        first.asked_at -= LEAST_PAUSE
    with either.write() as session:
        second = ask(session, person, assignment, b"two")
        new = Sketched(job=second.id, attempt=second.attempt, joints=2)
    with either.write() as session:
        assert [keep_answer(session, one) for one in (old, new, new)] == [False, True, False]
        (row,) = session.query(Sketch).all()
        assert (row.file, row.outcome["joints"], stage(row)) == (b"two", 2, "done")


def test_a_second_look_within_a_second_is_refused(either: Records) -> None:
    person, assignment = student(either)
    with either.write() as session:
        ask(session, person, assignment, b"one")
    with pytest.raises(AskedTooSoon), either.write() as session:
        ask(session, person, assignment, b"two")


def test_sketches_are_cleared_away_after_half_an_hour_and_with_their_student(either: Records) -> None:
    person, assignment = student(either)
    with either.write() as session:
        ask(session, person, assignment, b"one").asked_at = now() - KEPT
        forget_old(session)
        assert session.query(Sketch).count() == 0
        ask(session, person, assignment, b"one")
        session.query(Submission).delete()
        session.delete(session.get_one(Person, person))
        session.flush()
        assert session.query(Sketch).count() == 0
