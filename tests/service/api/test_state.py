"""The state of an attempt, and problems as JSON."""

from __future__ import annotations

import pytest

from rubric.messages.names import PRINT
from service.records.models import FAILED, NOT_MARKED, Job, Submission
from tests.service.site import MISTAKEN, Site


def test_the_state_goes_from_received_to_printed(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    address = f"/api/v1/attempts/{site.hand_in(client)}/state"
    nothing = {"total": None, "out_of": None, "waiting_points": None}
    assert client.get(address).json == {"stage": "received", "plan": "", "waits": "Yours is next."} | nothing
    site.work()
    points = {"total": 90.0, "out_of": 100.0, "waiting_points": 10.0}
    assert client.get(address).json == {"stage": "printed", "plan": "none", "waits": ""} | points


def test_who_waits_is_told_how_many_files_are_before(site: Site) -> None:
    ada, ben = site.signed_in("Ada Fern"), site.signed_in("Ben Holt")
    site.hand_in(ada)
    second, third = site.hand_in(ada, MISTAKEN), site.hand_in(ben)
    assert ada.get(f"/api/v1/attempts/{second}/state").json["waits"] == "One file is before yours."
    assert "2 files are before yours." in ben.get(f"/attempts/{third}").text
    site.work()
    assert ben.get(f"/api/v1/attempts/{third}/state").json["waits"] == ""


@pytest.mark.parametrize(("state", "stage"), [("waiting", "marked"), (FAILED, "unprinted")])
def test_a_sheet_under_way_or_failed_is_told_apart(site: Site, state: str, stage: str) -> None:
    client = site.signed_in("Ada Fern")
    address = f"/api/v1/attempts/{site.hand_in(client)}/state"
    site.work()
    with site.records.write() as session:
        session.query(Job).filter_by(kind=PRINT).one().state = state
    assert client.get(address).json["stage"] == stage


def test_a_file_that_could_not_be_marked_has_failed(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    submission = site.hand_in(client)
    with site.records.write() as session:
        session.get_one(Submission, submission).state = NOT_MARKED
    assert client.get(f"/api/v1/attempts/{submission}/state").json["stage"] == "failed"


@pytest.mark.parametrize(("address", "status"), [("/api/v1/attempts/77/state", 404), ("/api/v1/nothing", 404)])
def test_errors_are_problem_json(site: Site, address: str, status: int) -> None:
    answer = site.signed_in("Ada Fern").get(address)
    assert answer.content_type == "application/problem+json"
    assert answer.status_code == answer.get_json(force=True)["status"] == status
    assert answer.get_json(force=True)["instance"] == address


def test_without_a_sign_in_the_problem_says_to_sign_in(site: Site) -> None:
    answer = site.visitor().get("/api/v1/attempts/1/state")
    assert (answer.status_code, answer.content_type) == (401, "application/problem+json")
