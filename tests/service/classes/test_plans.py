"""The building plan on the page of an attempt: who may have one, when, and on what paper."""

from __future__ import annotations

import pytest
from flask.testing import FlaskClient

from rubric.messages.names import PLAN
from service.records.models import FAILED, Job, Submission
from tests.service.site import MECHANISM, MISTAKEN, Site, post

OFFER = "Paper in your printer"


def marked(site: Site, *text: bytes) -> tuple[FlaskClient, int]:
    client = site.signed_in("Ada Fern")
    submission = site.hand_in(client, *text)
    site.work()
    return client, submission


def page(client: FlaskClient, submission: int) -> str:
    return client.get(f"/attempts/{submission}").text


def ask(client: FlaskClient, submission: int, paper: str = "A4") -> str:
    """Ask for a plan; the page that follows."""
    answer = post(client, f"/attempts/{submission}/plan", paper=paper)
    assert answer.status_code == 303
    assert answer.location.endswith(f"/attempts/{submission}#part-plan")
    return page(client, submission)


def failed(site: Site) -> None:
    with site.records.write() as session:
        session.query(Job).filter_by(kind=PLAN).one().state = FAILED


def test_a_plan_is_offered_asked_for_drawn_and_downloaded(site: Site) -> None:
    client, submission = marked(site)
    assert OFFER in page(client, submission)
    assert client.get(f"/attempts/{submission}/plan.pdf").status_code == 404
    waiting = ask(client, submission, "Letter")
    assert "The building plan for Letter is being drawn." in waiting
    assert 'data-plan="waiting"' in waiting
    assert OFFER not in waiting
    site.work()
    assert "Building plan for Letter (PDF)" in page(client, submission)
    answer = client.get(f"/attempts/{submission}/plan.pdf")
    assert (answer.mimetype, answer.data[:5]) == ("application/pdf", b"%PDF-")
    name = "plan-footbridge-over-the-mill-stream-attempt-1-Letter.pdf"
    assert answer.headers["Content-Disposition"] == f"attachment; filename={name}"


@pytest.mark.parametrize("text", [MECHANISM, MISTAKEN])
def test_what_does_not_stand_has_no_plan(site: Site, text: bytes) -> None:
    client, submission = marked(site, text)
    assert "To build it" not in page(client, submission)
    assert "Only a truss that was read and is stable has a building plan." in ask(client, submission)
    assert site.sender.sent == []


def test_while_a_file_is_marked_there_is_no_plan_yet(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    submission = site.hand_in(client)
    assert "To build it" not in page(client, submission)
    assert "Only a truss that was read and is stable" in ask(client, submission)


def test_asking_twice_draws_once(site: Site) -> None:
    client, submission = marked(site)
    ask(client, submission)
    assert "is being drawn already" in ask(client, submission, "A3")
    assert [job.kind for job in site.sender.sent] == [PLAN]
    site.work()
    assert "The building plan for A4 is there already." in ask(client, submission)
    assert site.sender.sent == []


def test_a_plan_can_be_drawn_anew_on_other_paper(site: Site) -> None:
    client, submission = marked(site)
    ask(client, submission)
    site.work()
    ready = page(client, submission)
    assert "On other paper" in ready
    assert "<option>A4</option>" not in ready
    ask(client, submission, "A3")
    assert client.get(f"/attempts/{submission}/plan.pdf").status_code == 404
    site.work()
    assert "Building plan for A3 (PDF)" in page(client, submission)


@pytest.mark.parametrize("paper", ["", "A5", "a4"])
def test_unknown_paper_is_refused(site: Site, paper: str) -> None:
    client, submission = marked(site)
    assert "Choose the paper: A4, Letter or A3." in ask(client, submission, paper)
    assert site.sender.sent == []


def test_a_plan_that_failed_is_tried_again_by_a_teacher_alone(site: Site) -> None:
    client, submission = marked(site)
    ask(client, submission)
    site.sender.sent.clear()
    failed(site)
    assert "could not be drawn. Your teacher has been told." in page(client, submission)
    assert "Ask your teacher to try it again." in ask(client, submission)
    teacher = site.signed_in("Tess Birch")
    assert OFFER in page(teacher, submission)
    ask(teacher, submission)
    assert [job.kind for job in site.sender.sent] == [PLAN]


def test_a_held_mark_does_not_hold_the_plan(site: Site) -> None:
    client, submission = marked(site)
    with site.records.write() as session:
        session.get_one(Submission, submission).held = True
    assert OFFER in page(client, submission)
    ask(client, submission)
    site.work()
    held = page(client, submission)
    assert "Building plan for A4 (PDF)" in held
    assert "points</strong>" not in held
    assert client.get(f"/attempts/{submission}/plan.pdf").status_code == 200
    assert client.get(f"/attempts/{submission}/sheet.pdf").status_code == 404


def test_the_state_tells_how_far_the_plan_is(site: Site) -> None:
    client, submission = marked(site)

    def state() -> str:
        return str(client.get(f"/api/v1/attempts/{submission}/state").json["plan"])

    assert state() == "none"
    ask(client, submission)
    assert state() == "waiting"
    site.work()
    assert state() == "ready"
    failed(site)
    assert state() == "failed"


def test_the_parts_for_the_script_hold_the_plan_and_the_token_of_its_form(site: Site) -> None:
    client, submission = marked(site)
    parts = client.get(f"/attempts/{submission}/parts").text
    assert '<div id="part-plan" data-version="noneA4">' in parts
    assert 'name="csrf_token"' in parts
