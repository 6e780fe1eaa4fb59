"""What programs may do in the office, and what they may give out and delete."""

from __future__ import annotations

import io
import json
import zipfile

import pytest

from service.api.tokens import DATA, GIVE_MARKS, KEEP_CLASS, OFFICE, READ_NAMES, SCOPES
from service.people import enrol
from service.records.acts import Act
from service.records.models import Person, SchoolClass, Submission
from service.records.token_models import Token
from tests.service.api.conftest import Headers, WithToken
from tests.service.api.test_work import ask
from tests.service.site import Site, post

pytestmark = pytest.mark.usefixtures("unbounded")


@pytest.fixture
def headers(with_token: WithToken) -> Headers:
    return with_token(OFFICE, READ_NAMES, DATA, by="Cora Vale")


def test_a_class_is_made_and_stands_among_all_others(full: Site, headers: Headers) -> None:
    made = ask(full, headers, "/office/classes", {"name": "Newts", "code": "6a"})
    assert (made.status_code, made.json["code"], made.json["put_away"]) == (201, "6A", False)
    again = ask(full, headers, "/office/classes", {"name": "Newts", "code": "6A"})
    assert (again.status_code, "already" in again.json["detail"]) == (422, True)
    own = ask(full, headers, "/office/classes", {"name": "Efts", "code": "6b", "sourced_id": "c-17"})
    assert (made.json["sourced_id"], own.json["sourced_id"]) == (None, "c-17")
    items = ask(full, headers, "/office/classes").json["items"]
    assert [(one["code"], one["students"]) for one in items] == [("8B", 2), ("9C", 1), ("6A", 0), ("6B", 0)]


def test_a_class_is_renamed_and_keeps_its_code(full: Site, headers: Headers) -> None:
    told = ask(full, headers, "/office/classes/1", {"name": "Badgers"}).json
    assert (told["name"], told["code"]) == ("Badgers", "8B")
    assert ask(full, headers, "/office/classes/1", {"name": " "}).status_code == 422
    assert ask(full, headers, "/office/classes/99", {"name": "Badgers"}).status_code == 404
    with full.records.read() as session:
        assert [one.word for one in session.query(Act).filter_by(what="class renamed")] == ["8B"]


def test_a_teacher_is_added_who_cannot_sign_in_before_a_password_is_given_on_the_page(
    full: Site, headers: Headers
) -> None:
    made = ask(full, headers, "/office/staff", {"name": "Nora Pine", "class_ids": [1]})
    assert (made.status_code, made.json["role"], made.json["class_ids"]) == (201, "teacher", [1])
    assert set(made.json) == {"id", "role", "name", "class_ids"}
    with full.records.write() as session:
        secret = enrol.new_secret(session, session.get_one(Person, made.json["id"])).secret
    assert post(full.visitor(), "/sign-in/staff", name="Nora Pine", password=secret).status_code == 302


def test_a_teacher_takes_classes_up_and_gives_them_up(full: Site, headers: Headers) -> None:
    path = f"/office/staff/{full.ids['Tess Birch']}/classes"
    assert ask(full, headers, path, {"class_ids": [2]}).json["class_ids"] == [2]
    wrong = ask(full, headers, path, {"class_ids": [1, 99]})
    assert (wrong.status_code, wrong.json["detail"]) == (422, "There is no class no. 99.")
    assert ask(full, headers, f"/office/staff/{full.ids['Ada Fern']}/classes", {"class_ids": []}).status_code == 404
    with full.records.read() as session:
        words = [one.word for one in session.query(Act).filter_by(what="classes taught")]
    assert words == ["given up: class no. 1", "taken up: class no. 2"]


def test_the_staff_is_listed_with_names_only_for_those_who_may_read_them(full: Site, with_token: WithToken) -> None:
    bare = ask(full, with_token(OFFICE, by="Cora Vale"), "/office/staff").json["items"]
    named = ask(full, with_token(OFFICE, READ_NAMES, by="Cora Vale"), "/office/staff").json["items"]
    assert {one["name"] for one in bare} == {None}
    assert (named[0]["name"], named[0]["class_ids"]) == ("Tess Birch", [1])


def test_the_record_tells_who_did_what_page_by_page(full: Site, with_token: WithToken, headers: Headers) -> None:
    keeper = with_token(KEEP_CLASS, GIVE_MARKS)
    for _ in range(51):
        ask(full, keeper, "/students/1/leave", {"left": True})
        ask(full, keeper, "/students/1/leave", {"left": False})
    first = ask(full, headers, "/office/record?kind=class lists").json
    assert (len(first["items"]), first["next"]) == (100, "2")
    assert ask(full, headers, "/office/record?kind=class lists&cursor=2").json["next"] is None
    newest = first["items"][0]
    said = (newest["by"], newest["what"], newest["about"], newest["about_id"], newest["about_name"])
    assert said == ("Tess Birch", "back from the leavers", "person", 1, "Ada Fern")
    bare = ask(full, with_token(OFFICE, by="Cora Vale"), "/office/record").json["items"][0]
    assert (bare["by"], bare["about_name"], bare["by_id"]) == (None, None, full.ids["Tess Birch"])


@pytest.mark.parametrize(
    ("query", "status"),
    [("kind=x", 400), ("since=yesterday", 400), ("since=0001-01-01&until=9999-12-31", 200), ("by_id=0", 400)],
)
def test_the_record_is_asked_by_kind_person_and_day(full: Site, headers: Headers, query: str, status: int) -> None:
    assert ask(full, headers, f"/office/record?{query}").status_code == status


def test_the_time_of_keeping_is_set_and_read_back(full: Site, headers: Headers) -> None:
    told = ask(full, headers, "/office/keeping", {"months": 24, "year_begins": 1}).json
    assert (told["months"], told["year_begins"]) == (24, 1)
    assert {line["code"]: line["students"] for year in told["years"] for line in year["classes"]} == {"8B": 2, "9C": 1}
    assert ask(full, headers, "/office/keeping", {"months": 2, "year_begins": 1}).status_code == 422
    assert ask(full, headers, "/office/keeping").json == told


def test_a_student_is_given_out_and_deleted_only_by_name(full: Site, with_token: WithToken) -> None:
    mine = with_token(DATA, READ_NAMES)
    given = ask(full, mine, "/students/1/data", {})
    with zipfile.ZipFile(io.BytesIO(given.data)) as packed:
        assert json.loads(packed.read("about.json"))["people"][0]["name"] == "Ada Fern"
    assert ask(full, mine, "/students/1/delete", {"typed": "Ben Holt"}).status_code == 422
    assert ask(full, mine, "/students/1/delete", {"typed": "ada  fern"}).json == {"students": 1, "classes": 0}
    assert ask(full, mine, "/students/1/data", {}).status_code == 404
    with full.records.read() as session:
        assert session.query(Submission).count() == 0
        whats = [one.what for one in session.query(Act).order_by(Act.id)]
    assert whats[-2:] == ["data given out", "pupil deleted"]


def test_a_class_is_deleted_with_its_tokens_only_by_its_code(full: Site, headers: Headers) -> None:
    assert ask(full, headers, "/classes/1/delete", {"typed": "9C"}).status_code == 422
    assert ask(full, headers, "/classes/1/delete", {"typed": "8b"}).json == {"students": 2, "classes": 1}
    assert ask(full, headers, "/classes").status_code == 401
    with full.records.read() as session:
        assert session.query(Token).count() == 0
        assert [one.code for one in session.query(SchoolClass)] == ["9C"]


def test_a_year_is_deleted_only_by_its_label(full: Site, headers: Headers) -> None:
    (year,) = ask(full, headers, "/office/keeping").json["years"]
    path = f"/office/years/{year['year']}/delete"
    assert ask(full, headers, path, {"typed": "2001/02"}).status_code == 422
    assert ask(full, headers, "/office/years/1999/delete", {"typed": "1999/00"}).status_code == 404
    assert ask(full, headers, path, {"typed": year["label"]}).json == {"students": 3, "classes": 2}


def test_a_teachers_token_does_nothing_in_the_office(full: Site, with_token: WithToken) -> None:
    mine = with_token(*SCOPES)
    for path in ("/office/classes", "/office/staff", "/office/record", "/office/keeping"):
        assert ask(full, mine, path).status_code == 403
    assert ask(full, mine, "/classes/1/delete", {"typed": "8B"}).status_code == 403
