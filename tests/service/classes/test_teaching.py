"""A teacher's pages: the class at an assignment, the marks as a table, all sheets."""

from __future__ import annotations

import csv
import io
import zipfile
from datetime import timedelta

import pytest

from rubric.tables import safe_cell
from service.classes.mark_book import HEADINGS
from service.classes.sheets import archive
from service.people import enrol
from service.people.sign_in import Welcome, student_sign_in
from service.records.models import Assignment, Person, Submission, now
from tests.service.site import GIRDER, HEAVY_GIRDER, MISTAKEN, Site, post


@pytest.fixture
def worked(site: Site) -> Site:
    """Ada handed in three times, Ben not at all."""
    client = site.signed_in("Ada Fern")
    for text in (HEAVY_GIRDER, GIRDER, MISTAKEN):
        site.hand_in(client, text)
    site.work()
    return site


def table(site: Site) -> list[dict[str, str]]:
    data = site.signed_in("Tess Birch").get(f"/staff/assignments/{site.assignment}/marks.csv").data
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def test_the_class_table_shows_every_student_newest_state_and_best_mark(worked: Site) -> None:
    page = worked.signed_in("Tess Birch").get(f"/staff/assignments/{worked.assignment}").text
    assert "1 of 2 have handed in. 1 attempt waits for your points, of those that count." in page
    assert "mistakes in the file" in page
    assert "90 of 100" in page
    assert "not started" in page


def test_names_stand_in_the_teachers_view_alone(worked: Site) -> None:
    board = f"/boards/assignments/{worked.assignment}"
    for name in ("Ben Holt", "Tess Birch"):
        assert "Ada Fern" not in worked.signed_in(name).get(board).text
    assert "Ada Fern" in worked.signed_in("Tess Birch").get(f"/staff/assignments/{worked.assignment}").text


def test_the_marks_take_the_best_attempt_with_its_own_date(worked: Site) -> None:
    with worked.records.write() as session:
        session.get_one(Assignment, worked.assignment).newest.due = now()
        session.get_one(Submission, 1).handed_in = now() + timedelta(hours=1)
    ada, ben = table(worked)
    assert tuple(ada) == HEADINGS
    assert (ada["Attempts"], ada["Attempt that counts"], ada["Points"], ada["Late"]) == ("3", "1", "90.0", "late")
    assert (ada["Best efficiency"], ada["Rank in class"]) == ("646.4", "1")
    assert (ben["Newest attempt"], ben["Points"], ben["Late"]) == ("nothing handed in", "", "")


def test_the_marks_are_for_a_spreadsheet_of_people(worked: Site) -> None:
    answer = worked.signed_in("Tess Birch").get(f"/staff/assignments/{worked.assignment}/marks.csv")
    assert answer.data.startswith(b"\xef\xbb\xbfStudent,")
    assert answer.data.count(b"\r\n") == answer.data.count(b"\n") == 3
    name = "marks-8b-footbridge-over-the-mill-stream.csv"
    assert answer.headers["Content-Disposition"] == f'attachment; filename="{name}"'


@pytest.mark.parametrize("begin", ["=", "+", "-", "@", "\t", "\r"])
def test_no_text_cell_is_a_formula(begin: str) -> None:
    assert safe_cell(f"{begin}1+1") == f"'{begin}1+1"
    assert safe_cell("Ada") == "Ada"


def test_a_student_named_like_a_formula_cannot_harm_the_table(site: Site) -> None:
    with site.records.write() as session:
        enrol.add_student(session, "8B", '=HYPERLINK("x"),"y"')
    assert '\'=HYPERLINK("x"),"y"' in [row["Student"] for row in table(site)]


def test_all_sheets_come_in_one_archive_with_safe_names(worked: Site) -> None:
    with worked.records.write() as session:
        session.get_one(Person, worked.ids["Ada Fern"]).name = "../Ädá/Fern"
    answer = worked.signed_in("Tess Birch").get(f"/staff/assignments/{worked.assignment}/sheets.zip")
    found = zipfile.ZipFile(io.BytesIO(answer.data))
    assert found.testzip() is None
    assert found.namelist() == [f"ada-fern-attempt-{n}-no-{n}.pdf" for n in (1, 2, 3)]


def test_the_archive_is_made_one_sheet_at_a_time(worked: Site) -> None:
    pieces = list(archive(worked.records, [(1, "Ada", 1), (2, "Ada", 2), (99, "gone", 1)]))
    assert len(pieces) == 3
    assert zipfile.ZipFile(io.BytesIO(b"".join(pieces))).namelist() == [
        "ada-attempt-1-no-1.pdf",
        "ada-attempt-2-no-2.pdf",
    ]


def test_a_teacher_sees_own_classes_and_a_coordinator_all(site: Site) -> None:
    teacher, coordinator = (site.signed_in(name).get("/staff").text for name in ("Tess Birch", "Cora Vale"))
    assert "Otters" in teacher
    assert "Herons" not in teacher
    assert "Otters" in coordinator
    assert "Herons" in coordinator
    assert "Spring bridges" in coordinator


def test_a_teacher_gives_new_words_that_work_at_once(site: Site) -> None:
    page = post(site.signed_in("Tess Birch"), f"/staff/students/{site.ids['Ada Fern']}/passphrase").text
    phrase = page.split("<dt>Three words</dt><dd>")[1].split("</dd>")[0]
    assert isinstance(student_sign_in(site.records.write, "8B", phrase), Welcome)
