"""The marks handed on: semicolons, JSON, OneRoster result files."""

from __future__ import annotations

import csv
import io
import zipfile

import pytest
from flask.testing import FlaskClient

from rubric.tables import table_for_people
from service.records.models import Person
from tests.service.site import GIRDER, Site


@pytest.fixture
def teacher(site: Site) -> FlaskClient:
    """Ada, whom the school knows as S-1, handed in; Ben did not and has no number."""
    site.hand_in(site.signed_in("Ada Fern"), GIRDER)
    site.work()
    with site.records.write() as session:
        session.get_one(Person, site.ids["Ada Fern"]).roster_number = "S-1"
    return site.signed_in("Tess Birch")


def get(site: Site, client: FlaskClient, name: str) -> bytes:
    answer = client.get(f"/staff/assignments/{site.assignment}/{name}")
    assert answer.status_code == 200
    return bytes(answer.data)


def files(data: bytes) -> dict[str, list[dict[str, str]]]:
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        return {name: list(csv.DictReader(io.StringIO(packed.read(name).decode()))) for name in packed.namelist()}


def test_semicolons_come_with_a_comma_in_numbers_and_formulas_stay_text() -> None:
    written = table_for_people([("Name", 87.5, 3, "=1;2", None)], semicolons=True)
    assert written == b'\xef\xbb\xbfName;87,5;3;"\'=1;2";\r\n'


def test_a_teacher_may_have_either_csv(site: Site, teacher: FlaskClient) -> None:
    assert b"Student,Attempts" in get(site, teacher, "marks.csv")
    assert b"Student;Attempts" in get(site, teacher, "marks.csv?cells=semicolons")


def test_the_result_files_name_the_student_by_the_schools_number(site: Site, teacher: FlaskClient) -> None:
    found = files(get(site, teacher, "oneroster.zip?class=c-77"))
    assert list(found) == ["manifest.csv", "lineItems.csv", "results.csv"]
    (item,), (result,) = found["lineItems.csv"], found["results.csv"]
    assert (item["classSourcedId"], item["resultValueMin"], item["resultValueMax"]) == ("c-77", "0", "100")
    assert (result["lineItemSourcedId"], result["studentSourcedId"]) == (item["sourcedId"], "S-1")
    assert (result["scoreStatus"], result["score"]) == ("partially graded", "90")


def test_the_manifest_says_of_every_file_whether_it_is_there(site: Site, teacher: FlaskClient) -> None:
    said = {row["propertyName"]: row["value"] for row in files(get(site, teacher, "oneroster.zip"))["manifest.csv"]}
    assert (said["manifest.version"], said["oneroster.version"]) == ("1.0", "1.2")
    assert {name for name, value in said.items() if value == "bulk"} == {"file.lineItems", "file.results"}
    assert said["file.users"] == "absent"


def test_a_second_export_has_the_same_ids(site: Site, teacher: FlaskClient) -> None:
    first, second = (files(get(site, teacher, "oneroster.zip"))["results.csv"][0] for _ in range(2))
    assert first["sourcedId"] == second["sourcedId"]


def test_who_would_be_left_out_is_said_before(site: Site, teacher: FlaskClient) -> None:
    page = get(site, teacher, "marks").decode()
    assert "1 student has no number of the school and is left out:</strong> <bdi>Ben Holt</bdi>." in page


def test_json_holds_numbers_and_nothing_where_there_is_nothing(site: Site, teacher: FlaskClient) -> None:
    answer = teacher.get(f"/staff/assignments/{site.assignment}/marks.json")
    ada, ben = answer.json["students"]  # type: ignore[index]
    assert (ada["number"], ada["points"], ada["state"], ada["released"]) == ("S-1", 90.0, "needs attention", True)
    assert (ben["points"], ben["state"], ben["attempt"]) == (None, "not started", None)
