"""Every example in the documents is run, so that none can rot."""

from __future__ import annotations

import re
import shlex
import tomllib
from pathlib import Path

import pytest

from rubric import library
from rubric.brief import read_brief
from rubric.rubrics import read_rubric
from service.classes import examples
from worker.analysis import solve
from worker.commands import mark as mark_command
from worker.commands import solve as solve_command
from worker.truss.reader import read_truss

TOP = Path(__file__).parent.parent
README = (TOP / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")


def blocks(label: str) -> list[str]:
    """Code blocks of the README that stand below ``<!-- label -->``."""
    found = re.findall(rf"<!-- {label} -->\n```\w+\n(.*?)```", README, re.DOTALL)
    assert found, label
    return found


@pytest.mark.parametrize("text", blocks("truss: footbridge"))
def test_a_truss_of_the_readme_stands_and_keeps_its_brief_or_says_what_it_breaks(text: str) -> None:
    brief = library.brief("footbridge")
    assert solve(read_truss(text.encode(), brief), brief).stable


def test_the_textbook_problem_of_the_readme_gives_the_force_of_the_closed_form() -> None:
    """P = 20 kN at the apex of an equilateral triangle: the tie takes P / (2 sqrt 3)."""
    from worker.statics import solve as statics

    text, _ = blocks("truss: alone")
    assert statics(read_truss(text.encode())).forces["A-B"] == pytest.approx(20_000 / (2 * 3**0.5), rel=1e-5)


def test_the_working_of_the_readme_fits_its_first_truss() -> None:
    (text,) = re.findall(r"```yaml\n(working:.*?)```", README, re.DOTALL)
    truss = blocks("truss: footbridge")[0]
    working = read_truss(f"{truss}{text}".encode(), library.brief("footbridge")).working
    assert working is not None
    forces = {name: written.force_N for name, written in working.forces.items()}
    assert forces == {"a-p": -80.0, "a-b": 62.5, "b-p": 0.0}


def test_the_shortest_brief_and_rubric_of_the_readme_are_read() -> None:
    assert [read_brief(text.encode()).span_mm for text in blocks("brief")] == [600, 600]
    assert len(read_rubric(blocks("rubric")[0].encode()).criteria) == 3


def test_the_examples_of_the_help_page_are_read() -> None:
    brief = library.brief("footbridge")
    assert read_truss(examples.YAML.encode(), brief).members
    assert read_truss(examples.CSV.encode(), brief).members
    assert read_truss(f"{examples.YAML}{examples.WORKING}".encode(), brief).working


def test_the_commands_of_the_readme_for_files_run_as_written(tmp_path, monkeypatch, capsys) -> None:
    monkeypatch.chdir(tmp_path)
    Path("heron.yaml").write_text(blocks("truss: footbridge")[0], encoding="utf-8")
    Path("triangle.yaml").write_text(blocks("truss: alone")[0], encoding="utf-8")
    lines = [line for line in README.splitlines() if line.startswith(("kingpost solve", "kingpost mark"))]
    assert len(lines) == 3
    for line in lines:
        _, name, *arguments = shlex.split(line)
        command = {"solve": solve_command, "mark": mark_command}[name].command
        assert command(arguments) == 0, line
    assert Path("marked/heron.pdf").exists()


@pytest.mark.parametrize("document", [README, DEVELOPERS])
def test_every_command_that_the_documents_name_exists(document: str) -> None:
    known = set(tomllib.loads((TOP / "pyproject.toml").read_text())["project"]["entry-points"]["kingpost.commands"])
    written = re.findall(r"(?:`|^)kingpost ([a-z]+)", document, re.MULTILINE)
    assert written
    assert set(written) <= known


def test_every_file_that_developers_md_names_is_there() -> None:
    named = re.findall(r"`((?:rubric|worker|service|tests|deploy)/[\w./-]+)`", DEVELOPERS)
    assert len(named) > 20
    assert [name for name in named if not (TOP / name).exists()] == []


def test_the_space_truss_of_the_readme_is_pushed_in_every_member() -> None:
    from worker.statics import solve as statics

    solution = statics(read_truss(blocks("truss: alone")[1].encode()))
    assert solution.degree == 0
    assert all(force < 0 for force in solution.forces.values())
