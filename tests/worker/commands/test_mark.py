"""``kingpost mark``: sheets, results and a leaderboard without any service."""

from __future__ import annotations

import csv
import json

import pytest

from tests.corpus.mistaken import G as GOOD
from tests.worker.advice.test_steps import GIRDER
from tests.worker.feedback.plan.read_back import sizes_mm
from worker.commands.mark import command
from worker.feedback.plan.tiles import PAPERS_MM

MOVES = "joints: {a: [0, 0], b: [300, 0], c: [600, 0]}\nmembers: {a-b: square5, b-c: square5}\n"

GIVEN = ["--brief", "footbridge", "--rubric", "footbridge"]


def folder_with(tmp_path, **texts: str):
    files = []
    for name, text in texts.items():
        files.append(tmp_path / f"{name}.yaml")
        files[-1].write_text(text, encoding="utf-8")
    return [str(file) for file in files], tmp_path / "out"


def test_each_file_gets_a_sheet_and_all_of_them_results_and_a_leaderboard(tmp_path, capsys) -> None:
    files, out = folder_with(tmp_path, ada=GIRDER, ben=GOOD)
    assert command([*GIVEN, "--out", str(out), *files]) == 0
    assert sorted(file.name for file in out.iterdir()) == [
        "ada.pdf",
        "ben.pdf",
        "leaderboard.html",
        "results.csv",
        "results.json",
    ]
    assert (out / "ada.pdf").read_bytes().startswith(b"%PDF-")
    assert [row["name"] for row in json.loads((out / "results.json").read_text())] == ["ada", "ben"]
    assert "2 of 2: ben" in capsys.readouterr().err


def test_stable_trusses_get_a_building_plan_where_plans_are_asked_for(tmp_path, capsys) -> None:
    files, out = folder_with(tmp_path, ada=GIRDER, bad="titel: x\n", leans=MOVES)
    command([*GIVEN, "--plan", "--paper", "A3", "--out", str(out), *files])
    assert [file.name for file in (out / "plans").iterdir()] == ["ada.pdf"]
    assert sizes_mm((out / "plans" / "ada.pdf").read_bytes())[-1] == pytest.approx(PAPERS_MM["A3"][::-1], abs=1e-3)
    assert sizes_mm((out / "ada.pdf").read_bytes())[0] == pytest.approx(PAPERS_MM["A4"], abs=1e-3)
    assert "1 building plan, for each stable truss, in " in capsys.readouterr().err


def test_only_trusses_within_the_limits_stand_on_the_leaderboard(tmp_path) -> None:
    files, out = folder_with(tmp_path, ada=GIRDER, ben=GOOD)
    command([*GIVEN, "--out", str(out), *files])
    page = (out / "leaderboard.html").read_text()
    assert "ada" in page
    assert "ben" not in page


def test_a_file_with_mistakes_still_gets_its_sheet_and_the_status_says_so(tmp_path, capsys) -> None:
    files, out = folder_with(tmp_path, ada=GIRDER, bad="titel: x\n")
    assert command([*GIVEN, "--out", str(out), *files]) == 1
    assert (out / "bad.pdf").exists()
    assert "did you mean 'title'?" in capsys.readouterr().err


def test_a_name_that_would_be_a_formula_is_safe_in_the_table(tmp_path) -> None:
    files, out = folder_with(tmp_path, **{"=cmd": GIRDER})
    command([*GIVEN, "--out", str(out), *files])
    rows = list(csv.reader((out / "results.csv").read_text(encoding="utf-8-sig").splitlines()))
    assert rows[1][0] == "'=cmd"


def test_two_files_of_one_name_do_not_overwrite_each_other(tmp_path) -> None:
    (tmp_path / "x").mkdir()
    files, out = folder_with(tmp_path, ada=GIRDER)
    more, _ = folder_with(tmp_path / "x", ada=GOOD)
    command([*GIVEN, "--out", str(out), *files, *more])
    assert (out / "ada-2.pdf").exists()


def test_a_brief_with_mistakes_stops_before_anything_is_written(tmp_path, capsys) -> None:
    files, out = folder_with(tmp_path, ada=GIRDER, brief="span: 600 km\n")
    assert command(["--brief", files[1], "--rubric", "footbridge", "--out", str(out), files[0]]) == 2
    assert "found '600 km'" in capsys.readouterr().err
    assert not out.exists()


def test_names_made_different_do_not_meet_a_name_that_is_there_already(tmp_path) -> None:
    (tmp_path / "x").mkdir()
    files, out = folder_with(tmp_path, **{"ada-2": GIRDER, "ada": GIRDER})
    more, _ = folder_with(tmp_path / "x", ada=GOOD)
    command([*GIVEN, "--out", str(out), *files, *more])
    assert {file.name for file in out.glob("*.pdf")} == {"ada-2.pdf", "ada.pdf", "ada-3.pdf"}


def test_an_out_that_is_a_file_is_said(tmp_path, capsys) -> None:
    files, out = folder_with(tmp_path, ada=GIRDER)
    out.write_text("in the way")
    assert command([*GIVEN, "--out", str(out), *files]) == 2
    assert "cannot be used as a folder for sheets" in capsys.readouterr().err
