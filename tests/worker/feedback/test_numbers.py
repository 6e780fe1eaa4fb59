"""Every number on the sheet is the outcome's at the printed rounding: read back from the PDF of twelve trusses."""

from __future__ import annotations

import re
import subprocess
from functools import cache

import pytest

from rubric import library
from rubric.brief import TRAVELLING, Brief
from rubric.messages.outcomes import Marked, MemberRow
from rubric.wording import figure
from service.demo.bridges import Design, arch, as_yaml, girder, zigzag
from tests.worker.feedback import samples
from worker.feedback.sheets import sheet_pdf
from worker.marker import mark_file

FOOT, RUBRIC = library.brief("footbridge"), library.rubric("footbridge")
STICKS = {"bottom": "square5", "top": "square5 x2", "vertical": "square3", "diagonal": "square5"}
MOVING = FOOT.model_copy(update={"load": FOOT.load.model_copy(update={"places": TRAVELLING})})
RIGID = FOOT.model_copy(update={"joints": "rigid"})
PLAIN = girder("Plain", 600, 4, 120, **STICKS)


def braced(design: Design) -> Design:
    return design.with_sticks({"b1-t2": "square3", "b3-t2": "square3"})


TRUSSES: dict[str, tuple[Brief, Design]] = {
    "plain": (FOOT, PLAIN),
    "six panels": (FOOT, girder("Six", 600, 6, 110, **STICKS)),
    "ten panels": (FOOT, girder("Ten", 600, 10, 140, **STICKS)),
    "bow": (FOOT, girder("Bow", 600, 8, arch(140), **STICKS)),
    "flat": (FOOT, girder("Flat", 600, 4, 25, **STICKS)),
    "deep": (FOOT, girder("Deep", 600, 4, 400, **STICKS)),
    "tents": (FOOT, zigzag("Tents", 600, 4, 110, bottom="square5", top="square5 x2", diagonal="square5")),
    "weak": (FOOT, girder("Weak", 600, 4, 120, **STICKS | {"top": "square3"})),
    "redundant": (FOOT, braced(PLAIN)),
    "stiff joints": (RIGID, PLAIN),
    "load that moves": (MOVING, girder("Moving", 600, 6, 120, **STICKS)),
    "moving and redundant": (MOVING, braced(PLAIN)),
}


@cache
def sheet(name: str) -> tuple[Marked, str]:
    """The outcome and the words of its sheet, on one line each row."""
    brief, design = TRUSSES[name]
    outcome = mark_file(as_yaml(design).encode(), brief, RUBRIC)
    pdf = sheet_pdf(samples.HEAD, brief, outcome)
    text = subprocess.run(["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True).stdout
    return outcome, text.decode().replace("\u00a0", " ")


def value(text: str) -> float:
    return float(text.replace("−", "-"))


@pytest.mark.parametrize("name", TRUSSES)
def test_each_row_of_the_members_is_that_of_the_outcome(name: str) -> None:
    outcome, text = sheet(name)
    assert outcome.analysis is not None
    table = text.split("All members, the hardest worked first")[1]
    for row in outcome.analysis.members:
        found = re.search(rf"^\s*{re.escape(row.name)}(?: ●)?\s+{row.stick}(?: ×\d)?\s+(.*)$", table, re.MULTILINE)
        assert found is not None, row.name
        assert_row(row, found[1].split())


def assert_row(row: MemberRow, cells: list[str]) -> None:
    length, force, *rest = cells
    assert length == figure(row.length_mm)
    largest = abs(row.hardest_N) > 1e-6
    if largest:
        assert (force, rest.pop(0)) == (figure(abs(row.hardest_N)), "T" if row.hardest_N > 0 else "C")
        assert (rest[0][0] == "+") == (row.hardest_N > 0)
        assert rest[0][1:] == figure(abs(row.stress_MPa))
    else:
        assert (force, rest[0]) == ("0", "0")
    assert rest[1] == ("–" if row.capacity_N is None else figure(row.capacity_N))
    assert rest[2] == figure(100 * row.utilisation)


@pytest.mark.parametrize("name", TRUSSES)
def test_load_mass_efficiency_and_marks_are_those_of_the_outcome(name: str) -> None:
    outcome, text = sheet(name)
    words, found = " ".join(text.split()), outcome.analysis
    assert found is not None
    assert found.failure_load_N is not None
    assert found.efficiency is not None
    assert f"should carry about {figure(found.failure_load_N)} N, like" in words
    assert f"It weighs about {figure(found.mass_g)} g and carries {figure(found.efficiency)} times its" in words
    for row in outcome.marks.criteria:
        if row.points is not None:
            assert re.search(rf"(?<![\d.]){row.points:.2f}".rstrip("0").rstrip(".") + rf" {row.of}", words), row
    assert f"Total: {outcome.marks.total:.2f}".rstrip("0").rstrip(".") in words


@pytest.mark.parametrize("name", TRUSSES)
def test_the_sums_at_each_joint_add_up_as_printed_and_their_forces_are_the_outcome_s(name: str) -> None:
    outcome, text = sheet(name)
    assert outcome.told is not None
    words = " ".join(text.split("Check it yourself")[1].split())
    assert len(outcome.told.joints) >= 2
    for one in outcome.told.joints:
        assert round(sum(value(pull.across) for pull in one.pulls), 4) == pytest.approx(value(one.across), abs=1e-9)
        assert round(sum(value(pull.up) for pull in one.pulls), 4) == pytest.approx(value(one.up), abs=1e-9)
        for pull in one.pulls:
            row = " ".join(filter(None, (pull.name, pull.force, pull.angle, pull.across, pull.up)))
            assert all(cell in words for cell in row.split()), row
            assert_pull(outcome, pull.name, pull.force)


def assert_pull(outcome: Marked, name: str, force: str) -> None:
    assert outcome.analysis is not None
    member = next((row for row in outcome.analysis.members if row.name == name), None)
    if member is None or force == "0":
        return
    size, letter = force.split()
    decimals = len(size.partition(".")[2])
    assert size == f"{abs(member.force_N):.{decimals}f}"
    assert letter == ("T" if member.force_N > 0 else "C")
