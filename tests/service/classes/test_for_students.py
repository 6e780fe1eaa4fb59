"""Staff hand in for students, one by one or with a zip, and read all about one student."""

from __future__ import annotations

import html
import io
import re
from datetime import timedelta

import pytest
from flask.testing import FlaskClient

from rubric.messages.names import MARK
from service.people.enrol import add_class
from service.records.acts import Act
from service.records.models import Assignment, Notice, Person, Submission, now
from tests.service.classes.test_bundle import zipped
from tests.service.site import GIRDER, HEAVY_GIRDER, MISTAKEN, Site, post, token


@pytest.fixture
def teacher(site: Site) -> FlaskClient:
    return site.signed_in("Tess Birch")


def for_ada(site: Site) -> str:
    return f"/staff/assignments/{site.assignment}/students/{site.ids['Ada Fern']}/hand-in"


def test_a_file_handed_in_for_a_student_says_so_to_both(site: Site, teacher: FlaskClient) -> None:
    answer = post(teacher, for_ada(site), text=GIRDER.decode())
    assert answer.status_code == 303
    site.work()
    assert "for the student by <bdi>Tess Birch</bdi>" in teacher.get(answer.location).text
    ada = site.signed_in("Ada Fern")
    assert "for you by your teacher" in ada.get(answer.location).text
    assert "by your teacher" in ada.get(f"/assignments/{site.assignment}").text
    with site.records.read() as session:
        act = session.query(Act).filter_by(what="handed in for a pupil").one()
        assert (act.by_id, act.about_id) == (site.ids["Tess Birch"], site.ids["Ada Fern"])


def test_what_binds_students_does_not_bind_a_teacher(site: Site, teacher: FlaskClient) -> None:
    site.ask(attempts={"most": 1, "counts": "best"})
    with site.records.write() as session:
        session.get_one(Assignment, site.assignment).opens = now() + timedelta(days=1)
    for text in (GIRDER, HEAVY_GIRDER):
        assert post(teacher, for_ada(site), text=text.decode()).status_code == 303
    assert post(teacher, for_ada(site), text=" ").status_code == 422


def test_a_student_of_another_class_is_not_found(site: Site) -> None:
    address = f"/staff/assignments/{site.assignment}/students/{site.ids['Cleo Marsh']}/hand-in"
    assert site.signed_in("Cora Vale").get(address).status_code == 404


def send_zip(site: Site, client: FlaskClient, files: dict[str, bytes]) -> str:
    data = {"csrf_token": token(client), "file": (io.BytesIO(zipped(files)), "class.zip")}
    return client.post(f"/staff/assignments/{site.assignment}/bundle", data=data).text


def confirm(site: Site, client: FlaskClient, page: str) -> tuple[int, str]:
    fields = {"files": r'name="files" hidden>([^<]*)<', "shown": r'name="shown" value="([^"]*)"'}
    typed = {name: html.unescape(re.findall(pattern, page)[0]) for name, pattern in fields.items()}
    answer = post(client, f"/staff/assignments/{site.assignment}/bundle/take", **typed)
    return answer.status_code, client.get(answer.location).text if answer.location else answer.text


def test_nothing_is_written_before_the_report_is_confirmed(site: Site, teacher: FlaskClient) -> None:
    page = send_zip(site, teacher, {"ADA fern.yaml": GIRDER, "holt ben.yaml": MISTAKEN, "zoe.yaml": b"x"})
    assert "2 files to hand in" in page
    assert "<bdi>zoe.yaml</bdi>: <bdi>no student of the class is called so</bdi>" in page
    with site.records.read() as session:
        assert session.query(Submission).count() == 0
    status, after = confirm(site, teacher, page)
    assert status == 303
    assert "2 files handed in for the class." in after
    with site.records.read() as session:
        found = {one.student.name: one for one in session.query(Submission)}
        assert found["Ada Fern"].file == GIRDER
        assert {one.by_id for one in found.values()} == {site.ids["Tess Birch"]}
    assert len([job for job in site.sender.sent if job.kind == MARK]) == 2


def test_the_same_zip_again_hands_nothing_in(site: Site, teacher: FlaskClient) -> None:
    files = {"ada fern.yaml": GIRDER}
    page = send_zip(site, teacher, files)
    confirm(site, teacher, page)
    assert "it is the newest attempt of Ada Fern already" in send_zip(site, teacher, files)
    status, again = confirm(site, teacher, page)
    assert status == 422
    assert "Something was handed in meanwhile." in again


@pytest.mark.parametrize("files", ["", "%%%", "UEsDBA==", "x" * 300_000])
def test_a_confirmation_that_was_tampered_with_is_refused(site: Site, teacher: FlaskClient, files: str) -> None:
    answer = post(teacher, f"/staff/assignments/{site.assignment}/bundle/take", files=files, shown="")
    assert answer.status_code == 422
    with site.records.read() as session:
        assert session.query(Submission).count() == 0


def test_a_zip_over_the_limit_is_refused_and_elsewhere_the_old_limit_stands(site: Site, teacher: FlaskClient) -> None:
    for address, size in ((f"/staff/assignments/{site.assignment}/bundle", 8_100_000), (for_ada(site), 300_000)):
        answer = teacher.post(address, data=b"x" * size, content_type="multipart/form-data; boundary=y")
        assert answer.status_code == 413


def test_all_about_one_student_stands_on_one_page(site: Site, teacher: FlaskClient) -> None:
    site.hand_in(site.signed_in("Ada Fern"))
    post(teacher, for_ada(site), text=MISTAKEN.decode())
    site.work()
    post(teacher, f"/staff/assignments/{site.assignment}/release", do="hold", which="all", why="first a talk")
    page = teacher.get(f"/staff/students/{site.ids['Ada Fern']}").text
    for said in ("Attempt 2", "mistakes in the file", ", by the staff", "first a talk", "What counts: attempt 1"):
        assert said in page


def test_a_teacher_of_another_class_reads_nothing_of_work_done_elsewhere(site: Site) -> None:
    site.hand_in(site.signed_in("Ada Fern"))
    with site.records.write() as session:
        session.get_one(Person, site.ids["Ada Fern"]).class_id = 2
    page = site.signed_in("Owen Reed").get(f"/staff/students/{site.ids['Ada Fern']}").text
    assert "Attempt 1" not in page
    assert "Nothing handed in yet." in page


def states(client: FlaskClient, site: Site, wanted: str = "") -> list[tuple[str, str]]:
    page = client.get(f"/staff/assignments/{site.assignment}/rows?state={wanted}").text
    return re.findall(r'<bdi>([^<]*)</bdi></a></th>\s*<td data-name="State"[^>]*>(?:<strong>)?([^<]*)', page)


def test_the_table_says_how_far_each_student_is_and_filters(site: Site, teacher: FlaskClient) -> None:
    with site.records.write() as session:
        add_class(session, "Others", "7A", ["Zed Grey"])
    assert states(teacher, site) == [("Ada Fern", "not started"), ("Ben Holt", "not started")]
    site.hand_in(site.signed_in("Ada Fern"))
    assert states(teacher, site)[0] == ("Ada Fern", "waiting")
    site.work()
    assert states(teacher, site, "needs attention") == [("Ada Fern", "needs attention")]
    assert states(teacher, site, "not started") == [("Ben Holt", "not started")]
    with site.records.write() as session:
        session.get_one(Submission, 1).state = "failed"
    assert states(teacher, site)[0] == ("Ada Fern", "failed")


def test_an_open_notice_asks_for_attention_until_it_is_settled(site: Site, teacher: FlaskClient) -> None:
    site.hand_in(site.signed_in("Ada Fern"), MISTAKEN)
    site.work()
    with site.records.write() as session:
        session.get_one(Submission, 1).waiting_points = 0
        session.add(Notice(class_id=1, submission_id=1, text="odd"))
    assert states(teacher, site)[0][1] == "needs attention"
    post(teacher, "/notices/1/settle")
    assert states(teacher, site)[0][1] == "marked"


def test_the_table_is_sent_again_only_when_it_changed(site: Site, teacher: FlaskClient) -> None:
    page = teacher.get(f"/staff/assignments/{site.assignment}").text
    seen = re.findall(r'data-version="([0-9a-f]+)"', page)[0]
    address = f"/staff/assignments/{site.assignment}/rows?seen={seen}"
    assert teacher.get(address).status_code == 204
    site.hand_in(site.signed_in("Ada Fern"))
    answer = teacher.get(address)
    assert answer.status_code == 200
    assert answer.headers["X-Version"] != seen
