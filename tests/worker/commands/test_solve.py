"""``kingpost solve``: JSON in the file's own units, exit statuses, and problems that can be mended."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from worker.commands.solve import command

TRIANGLE = """units: m
force: kN
joints: {A: [0, 0], B: [4, 0], C: [2, 3.4641]}
members:
  A-B: {area: 100 mm2, modulus: 3.4 GPa}
  A-C: {area: 100 mm2, modulus: 3.4 GPa}
  B-C: {area: 100 mm2, modulus: 3.4 GPa}
supports: {A: pin, B: roller}
settlements: {B: [0, -2 mm]}
loads: {C: [0, -20]}
"""


def run(tmp_path, capsys, text: str, *options: str) -> tuple[int, str, str]:
    file = tmp_path / "truss.yaml"
    file.write_text(text, encoding="utf-8")
    status = command([str(file), *options])
    return status, *capsys.readouterr()


def test_forces_and_reactions_come_in_the_units_of_the_file(tmp_path, capsys) -> None:
    status, out, _ = run(tmp_path, capsys, TRIANGLE, "--json")
    answer = json.loads(out)
    assert status == 0
    assert (answer["state"], answer["determinate"], answer["degree"]) == ("stable", True, 0)
    assert answer["members"]["A-B"]["force"] == pytest.approx(5.7735, rel=1e-5)
    assert answer["members"]["A-C"]["force"] == pytest.approx(-11.547, rel=1e-5)
    assert answer["reactions"] == {"A": [0, 10], "B": [0, 10]}
    assert answer["displacements"]["B"][1] == pytest.approx(-0.002)


def test_bare_members_of_a_determinate_truss_give_forces_and_no_displacements(tmp_path, capsys) -> None:
    bare = TRIANGLE.replace(": {area: 100 mm2, modulus: 3.4 GPa}", ":")
    status, out, _ = run(tmp_path, capsys, bare, "--json")
    assert status == 0
    assert "displacements" not in json.loads(out)


def test_a_mechanism_exits_with_1_and_names_the_joints_that_move(tmp_path, capsys) -> None:
    status, out, _ = run(tmp_path, capsys, TRIANGLE.replace("B: roller}", "B: roller y}"), "--json")
    answer = json.loads(out)
    assert status == 1
    assert (answer["state"], answer["mechanisms"]) == ("mechanism", 1)
    assert answer["moving"]


def test_a_redundant_truss_without_stiffness_is_told_where_it_lacks_it(tmp_path, capsys) -> None:
    text = TRIANGLE.replace("B: roller}", "B: pin}").replace("B-C: {area: 100 mm2, modulus: 3.4 GPa}", "B-C:")
    status, out, err = run(tmp_path, capsys, text)
    assert (status, out) == (2, "")
    assert "line 7, column 3: found the member 'B-C' without area and modulus, in a redundant truss" in err


def test_a_brief_adds_what_the_whole_bridge_should_carry(tmp_path, capsys) -> None:
    text = "joints: {a: [0, 0], b: [300, 0], c: [600, 0], d: [300, 150]}\nmembers: {a-b: square5, b-c: square5, a-d: square5 x2, d-c: square5 x2, b-d: square5}\n"
    status, out, _ = run(tmp_path, capsys, text, "--brief", "footbridge")
    assert status == 0
    assert "The bridge should carry" in out
    assert "never for a structure people use" in out


def test_a_file_that_is_not_there_is_said_and_exits_with_2(tmp_path, capsys) -> None:
    assert command([str(tmp_path / "none.yaml")]) == 2
    assert "cannot be read: No such file or directory" in capsys.readouterr().err


def test_a_brief_that_is_not_there_lists_the_ready_ones(tmp_path, capsys) -> None:
    status, _, err = run(tmp_path, capsys, TRIANGLE, "--brief", "footbrige")
    assert status == 2
    assert "did you mean 'footbridge'?" in err


def test_the_table_says_tension_and_compression(tmp_path, capsys) -> None:
    _, out, _ = run(tmp_path, capsys, TRIANGLE)
    assert "Member forces in kN (T tension, C compression):" in out
    assert "5.7735 T" in out
    assert "11.5470 C" in out


def test_the_installed_command_reads_standard_input() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "rubric.commandline", "solve", "-", "--json"],
        input=TRIANGLE.encode(),
        capture_output=True,
    )
    assert done.returncode == 0
    assert json.loads(done.stdout)["state"] == "stable"


SPACE = """units: m
force: kN
joints: {A: [3, 0, 0], B: [-3, 3, 0], C: [-3, -3, 0], D: [0, 0, 4]}
members: {A-D: {area: 1 cm2, modulus: 10 GPa}, B-D: {area: 1 cm2, modulus: 10 GPa}, C-D: {area: 1 cm2, modulus: 10 GPa}}
supports: {A: pin, B: pin, C: pin}
loads: {D: [0, 0, -16]}
"""


def test_a_space_truss_is_solved_with_three_components(tmp_path, capsys) -> None:
    # Half of 16 kN stands on the leg of 5 m (4 up), a quarter on each of the two of sqrt(34) m.
    status, out, _ = run(tmp_path, capsys, SPACE, "--json")
    answer = json.loads(out)
    assert status == 0
    assert answer["members"]["A-D"]["force"] == pytest.approx(-10.0)
    assert answer["members"]["B-D"]["force"] == pytest.approx(-(34**0.5))
    assert answer["reactions"]["B"] == pytest.approx([3.0, -3.0, 4.0])
    assert len(answer["displacements"]["D"]) == 3


def test_the_table_of_a_space_truss_has_a_column_for_z(tmp_path, capsys) -> None:
    _, out, _ = run(tmp_path, capsys, SPACE)
    assert "Reactions in kN (x, y, z; z up):" in out
    assert out.splitlines()[9].split() == ["B", "3.0000", "-3.0000", "4.0000"]


def test_a_member_too_long_in_a_redundant_truss_is_compressed_and_said_to_be_redundant(tmp_path, capsys) -> None:
    pinned = TRIANGLE.replace("B: roller}", "B: pin}").replace("loads: {C: [0, -20]}", "misfits: {B-A: 2 mm}")
    _, out, _ = run(tmp_path, capsys, pinned, "--json")
    answer = json.loads(out)
    # Between two pins: N = -EA g / L = -100 x 3400 x 2 / 4000 N; the settlement tilts it without a force.
    assert answer["members"]["A-B"]["force"] == pytest.approx(-0.17)
    assert answer["redundant"] == ["A-B"]


def test_a_mechanism_says_whether_bars_are_missing_or_its_form_is_critical(tmp_path, capsys) -> None:
    line = "joints: {A: [0, 0], B: [1, 0], C: [2, 0]}\nmembers: {A-B: , B-C: }\nsupports: {A: pin, C: pin}\n"
    assert json.loads(run(tmp_path, capsys, line, "--json")[1])["form"] == "critical form"
    loose = line.replace("A: pin", "A: roller")
    assert json.loads(run(tmp_path, capsys, loose, "--json")[1])["form"] == "missing bars"


def test_a_wrong_brief_is_blamed_by_its_own_name(tmp_path, capsys) -> None:
    brief = tmp_path / "brief.yaml"
    brief.write_text("span: 600 km\n")
    _, _, err = run(tmp_path, capsys, TRIANGLE, "--brief", str(brief))
    assert err.startswith(f"{brief}: line 1")
    assert "truss.yaml" not in err


def test_a_brief_that_is_a_folder_or_no_possible_name_is_said(tmp_path, capsys) -> None:
    for name in (str(tmp_path), "x" * 5000):
        status, _, err = run(tmp_path, capsys, TRIANGLE, "--brief", name)
        assert status == 2
        assert "is no brief that can be read" in err


def test_a_file_without_end_is_read_no_further_than_it_may_be_long(capsys) -> None:
    assert command(["/dev/zero"]) == 2
    assert "at most 65,536 bytes" in capsys.readouterr().err
