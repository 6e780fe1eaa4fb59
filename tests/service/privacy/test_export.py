"""What is given out about a pupil: everything to the school, and to the pupil what is theirs to see."""

from __future__ import annotations

import json
import zipfile
from io import BytesIO
from typing import Any

import pytest

from service.records.acts import Act
from service.records.contest_models import ContestPrint, Entry
from service.records.models import Change, Extension, Notice, Person, Submission, now
from tests.service.site import GIRDER, Site, post

OWN, TEACHER = "Ada Fern", "Tess Birch"


def opened(data: bytes) -> tuple[dict[str, Any], zipfile.ZipFile]:
    packed = zipfile.ZipFile(BytesIO(data))
    return json.loads(packed.read("about.json")), packed


@pytest.fixture
def worked(site: Site) -> tuple[Site, int]:
    """An attempt that is marked, changed and printed, a note of the staff, and a notice."""
    number = site.hand_in(site.signed_in(OWN))
    site.hand_in(site.signed_in("Ben Holt"))
    site.work()
    with site.records.write() as session:
        ada, tess = site.ids[OWN], site.ids[TEACHER]
        session.add(Extension(assignment_id=site.assignment, student_id=ada, due=now(), why="was ill", by_id=tess))
        session.add(Notice(class_id=1, person_id=ada, text="Many wrong words for Ada Fern"))
        for told in (True, False):
            change = {"submission_id": number, "person_id": tess, "what": "own points", "why": f"told: {told}"}
            session.add(Change(**change, total_before=1, total_after=2, told=told))
    return site, number


def staff_zip(site: Site) -> bytes:
    answer = post(site.signed_in(TEACHER), f"/staff/students/{site.ids[OWN]}/data.zip")
    assert (answer.status_code, answer.mimetype) == (200, "application/zip")
    return answer.data


def test_the_school_gets_every_row_and_every_file(worked: tuple[Site, int]) -> None:
    site, number = worked
    about, packed = opened(staff_zip(site))
    assert [row["id"] for row in about["submissions"]] == [number]
    assert about["submissions"][0]["outcome"]["kind"] == "marked"
    assert {"people", "extensions", "notices", "changes", "sheets", "jobs"} <= set(about)
    assert len(about["changes"]) == 2
    assert packed.read(f"attempt-{number}/file.txt") == GIRDER
    assert packed.read(f"attempt-{number}/sheet.pdf").startswith(b"%PDF")


def test_what_opens_an_account_is_given_to_nobody(worked: tuple[Site, int]) -> None:
    site, _ = worked
    with site.records.read() as session:
        ada = session.get_one(Person, site.ids[OWN])
    for data in (staff_zip(site), site.signed_in(OWN).get("/my-data.zip").data):
        text = opened(data)[1].read("about.json").decode()
        for secret in (ada.secret_hash, ada.session_key, f'"{ada.handle}"', "token_hash"):
            assert secret not in text


def test_a_pupil_gets_what_is_theirs_and_not_what_staff_noted(worked: tuple[Site, int]) -> None:
    site, number = worked
    about, packed = opened(site.signed_in(OWN).get("/my-data.zip").data)
    assert [row["why"] for row in about["changes"]] == ["told: True"]
    assert not {"notices", "second_markings", "jobs", "trial_works"} & set(about)
    assert "why" not in about["extensions"][0]
    assert about["people"][0]["name"] == OWN
    assert f"attempt-{number}/sheet.pdf" in packed.namelist()
    assert "Ben Holt" not in packed.read("about.json").decode()


def test_a_mark_that_is_held_does_not_leave_by_this_door(worked: tuple[Site, int]) -> None:
    site, number = worked
    with site.records.write() as session:
        session.get_one(Submission, number).held = True
    about, packed = opened(site.signed_in(OWN).get("/my-data.zip").data)
    assert not {"total", "outcome", "efficiency", "comments"} & set(about["submissions"][0])
    assert about["changes"] == about["sheets"] == []
    assert packed.namelist() == ["READ-ME.txt", f"attempt-{number}/file.txt", "about.json"]


@pytest.mark.parametrize("name", ["../../evil.yaml", "a/b.y|ml", "x.\u202egpj", "x." + "y" * 150, "", "."])
def test_no_name_that_a_pupil_chose_becomes_a_path_in_the_zip(worked: tuple[Site, int], name: str) -> None:
    site, number = worked
    with site.records.write() as session:
        session.get_one(Submission, number).file_name = name
    names = opened(staff_zip(site))[1].namelist()
    assert set(names) - {f"attempt-{number}/file.yaml"} <= {
        "READ-ME.txt", f"attempt-{number}/file.txt", f"attempt-{number}/sheet.pdf", "about.json"
    }  # fmt: skip


def test_that_data_was_given_out_is_an_act(worked: tuple[Site, int]) -> None:
    site, _ = worked
    staff_zip(site)
    with site.records.read() as session:
        act = session.query(Act).one()
    assert (act.what, act.by_id, act.about_id) == ("data given out", site.ids[TEACHER], site.ids[OWN])


def test_certificates_that_name_others_too_are_left_out(worked: tuple[Site, int]) -> None:
    site, number = worked
    with site.records.write() as session:
        session.add(Entry(contest_id=1, student_id=site.ids[OWN], submission_id=number, number=1, division="all"))
        session.add(ContestPrint(contest_id=1, what="certificates", list_number=1, pdf=b"%PDF Ben Holt"))
    about, packed = opened(staff_zip(site))
    assert [row["number"] for row in about["contest_entries"]] == [1]
    assert "Ben Holt" not in packed.read("about.json").decode()
