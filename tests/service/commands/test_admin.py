"""``kingpost admin``: what it prints, and what it says to wrong input."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from rubric import library
from service.commands.admin import command
from service.people.sign_in import Welcome, staff_sign_in, student_sign_in
from service.records.engine import Records, open_records
from service.records.models import Assignment, Job, Person, School, Teaching

CLASS = ["class", "Otters", "--code", "8B", "--students"]


@pytest.fixture
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A data folder with a school of two students."""
    for name in ("KINGPOST_DATABASE", "KINGPOST_BROKER"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("KINGPOST_DATA", str(tmp_path / "data"))
    (tmp_path / "names").write_text("Ada Fern\nBen Holt\n")
    assert command(["school", "Millbrook School", "--zone", "Europe/Lisbon"]) == 0
    assert command([*CLASS, str(tmp_path / "names")]) == 0
    return tmp_path


@pytest.fixture
def kept(data: Path) -> Records:
    return open_records(f"sqlite:///{data}/data/kingpost.sqlite")


def refused(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    capsys.readouterr()
    assert command(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    return err


def test_a_class_prints_a_sign_in_line_for_each_student(capsys: pytest.CaptureFixture[str], kept: Records) -> None:
    lines = [line.split("\t") for line in capsys.readouterr().out.splitlines()[1:]]
    assert [line[:2] for line in lines] == [["Ada Fern", "8B"], ["Ben Holt", "8B"]]
    assert all(isinstance(student_sign_in(kept.write, code, phrase), Welcome) for _, code, phrase in lines)


def test_names_may_come_from_standard_input(
    data: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO("Zoë\r\nLi\r\n".encode())))
    assert command(["class", "Kites", "--code", "7A", "--students", "-"]) == 0
    assert "Zoë\t7A\t" in capsys.readouterr().out


def test_staff_sign_in_with_the_printed_or_the_typed_password(
    kept: Records, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert command(["teacher", "Tess Birch", "--class", "8b"]) == 0
    name, password = capsys.readouterr().out.strip().split("\t")
    assert isinstance(staff_sign_in(kept.write, name, password), Welcome)
    monkeypatch.setattr("sys.stdin", io.StringIO("a long enough one\n"))
    assert command(["coordinator", "Cora Vale", "--stdin"]) == 0
    assert "a long enough one" not in capsys.readouterr().out
    assert isinstance(staff_sign_in(kept.write, "cora vale", "a long enough one"), Welcome)


def test_an_assignment_is_kept_with_its_drawing_ordered(kept: Records) -> None:
    assert command(["contest", "Spring"]) == 0
    given = ["assignment", "--class", "8B", "--brief", "footbridge", "--rubric", "footbridge", "--contest", "Spring"]
    assert command(given) == 0
    with kept.read() as session:
        found, job = session.query(Assignment).one(), session.query(Job).one()
        assert (found.title, found.contest_id, job.subject_id) == ("Footbridge over the mill stream", 1, found.id)


def test_dates_of_a_brief_are_kept_in_utc(data: Path, kept: Records) -> None:
    brief = data / "brief.yaml"
    brief.write_bytes(library.brief_text("footbridge") + b"dates: {opens: 2027-07-01 09:00, due: 2027-12-01 16:00}\n")
    assert command(["assignment", "--class", "8B", "--brief", str(brief), "--rubric", "footbridge"]) == 0
    with kept.read() as session:
        found = session.query(Assignment).one()
        assert (found.opens.hour, found.due.hour) == (8, 16)  # type: ignore[union-attr]


def test_a_brief_with_problems_is_refused_with_line_and_column(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    brief = data / "brief.yaml"
    brief.write_bytes(library.brief_text("footbridge").replace(b"600 mm", b"wide").replace(b"sides: 2", b"sies: 2"))
    said = refused(["assignment", "--class", "8B", "--brief", str(brief), "--rubric", "footbridge"], capsys)
    assert "There is something to mend in the brief:" in said
    assert "line 4, column 7: found 'wide'" in said
    assert "did you mean 'sides'?" in said


def test_an_unknown_measure_in_a_rubric_is_told_the_nearest(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rubric = data / "rubric.yaml"
    rubric.write_bytes(library.rubric_text("footbridge").replace(b"measure: efficiency", b"measure: eficiency"))
    said = refused(["assignment", "--class", "8B", "--brief", "footbridge", "--rubric", str(rubric)], capsys)
    assert "did you mean 'efficiency'?" in said


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([*CLASS, "no such file"], "cannot be read: No such file or directory"),
        (["class", "K", "--code", "8b", "--students", "/dev/null"], "There already is a class with the code 8B."),
        (["class", "K", "--code", "7A", "--students", "/dev/null"], "There is nobody in the class list."),
        (["teacher", "T", "--class", "8C"], "There is no class with the code '8C'"),
        (["password", "Nobody"], "Nobody called 'Nobody' is on the staff"),
        (["school", "M", "--zone", "Moon/Base"], "is not a time zone"),
        (["assignment", "--class", "8B", "--brief", "footbrige", "--rubric", "footbridge"], "did you mean 'footbridge'?"),
        (["assignment", "--class", "8B", "--brief", "footbridge", "--rubric", "footbridge", "--contest", "X"], "There is no contest called 'X'."),
    ],
)  # fmt: skip
def test_wrong_input_is_told_in_a_sentence(
    data: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], said: str
) -> None:
    assert said in refused(arguments, capsys)


def test_a_class_list_that_is_not_text_is_refused_with_its_line(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (data / "names").write_bytes(b"Ann\nZo\xeb\n")
    said = refused(["class", "K", "--code", "7A", "--students", str(data / "names")], capsys)
    assert "The class list is not UTF-8 text (line 2)." in said


def test_a_student_gets_a_new_passphrase(kept: Records, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert command(["password", "Ada Fern", "--class", "8B"]) == 0
    _, code, phrase = capsys.readouterr().out.strip().split("\t")
    assert isinstance(student_sign_in(kept.write, code, phrase), Welcome)


def test_a_teacher_who_is_here_is_given_another_class_once(data: Path, kept: Records, capsys) -> None:
    (data / "more").write_text("Cleo Marsh\n")
    assert command(["class", "Herons", "--code", "9C", "--students", str(data / "more")]) == 0
    assert command(["teacher", "Tess Birch", "--class", "8B"]) == 0
    for _ in range(2):
        assert command(["teaches", "Tess Birch", "--class", "9C", "--class", "8B"]) == 0
    with kept.read() as session:
        assert session.query(Teaching).count() == 2
    assert "use 'kingpost admin teaches'" in refused(["teacher", "Tess Birch", "--class", "9C"], capsys)


def test_renaming_the_school_keeps_its_clock(data: Path, kept: Records) -> None:
    assert command(["school", "Millbrook Academy"]) == 0
    with kept.read() as session:
        school = session.query(School).one()
    assert (school.name, school.zone) == ("Millbrook Academy", "Europe/Lisbon")


def test_a_brief_whose_name_is_too_long_for_any_file_is_said(data: Path, capsys) -> None:
    said = refused(["assignment", "--class", "8B", "--brief", "x" * 5000, "--rubric", "footbridge"], capsys)
    assert "is neither a file nor a ready brief" in said


def test_staff_read_in_the_language_they_are_added_with(kept: Records) -> None:
    assert command(["teacher", "Tess Birch", "--class", "8B", "--language", "de"]) == 0
    assert command(["coordinator", "Cora Elm"]) == 0
    with kept.read() as session:
        staff = session.query(Person).filter(Person.sign_in_name.is_not(None)).order_by(Person.id)
        assert [person.language for person in staff] == ["de", "en"]
