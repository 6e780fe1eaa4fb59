"""Measures and analysis of one class truss."""

from __future__ import annotations

import pytest

from rubric import library
from rubric.measures import CATALOGUE
from service.demo.bridges import arch, as_yaml, girder, zigzag
from tests.corpus.mistaken import G as GOOD
from worker.analysis import analysis, solve
from worker.measures import measures
from worker.outlook import outlook
from worker.truss.reader import read_truss

BRIEF = library.brief("footbridge")
SOLVED = solve(read_truss(GOOD.encode(), BRIEF), BRIEF)
FOUND = analysis(SOLVED, outlook(SOLVED, b"seed"))
MOVING = solve(read_truss(GOOD.replace("  b-d: square3\n", "").encode(), BRIEF), BRIEF)


def test_the_worker_computes_every_measure_of_the_catalogue_and_no_other() -> None:
    assert list(measures(SOLVED, FOUND)) == list(CATALOGUE)
    assert None not in measures(SOLVED, FOUND).values()


def test_a_mechanism_has_the_measures_of_its_shape_alone() -> None:
    missing = {name for name, value in measures(MOVING, analysis(MOVING)).items() if value is None}
    assert missing == {
        "stability factor", "peak load", "kept after first failure", "chance of carrying the target", "bending share",
        "sticks", "sticks over the kit", "share of par", "degree of redundancy", "failure load", "reserve factor", "largest utilisation", "efficiency", "midspan deflection",
    }  # fmt: skip


def test_measures_fit_together() -> None:
    found = measures(SOLVED, FOUND)
    assert found["reserve factor"] == pytest.approx(found["failure load"] / 200)
    assert found["largest utilisation"] == pytest.approx(1 / found["reserve factor"])
    assert (found["joints"], found["members"], found["depth above deck"]) == (4, 5, 150)


@pytest.mark.parametrize("title", ["Two bays", "Four bays", "Arch"])
def test_a_measure_has_the_sign_that_its_catalogue_says(title: str) -> None:
    design = {
        "Two bays": zigzag("T", 600, 4, 120, bottom="square5", top="square5", diagonal="square5"),
        "Four bays": girder("T", 600, 4, 150, bottom="square5", top="square5", vertical="square3", diagonal="square3"),
        "Arch": girder("T", 600, 6, arch(170), bottom="square3", top="square5", vertical="square3", diagonal="square3"),
    }[title]
    solved = solve(read_truss(as_yaml(design).encode(), BRIEF), BRIEF)
    for name, value in measures(solved, analysis(solved, outlook(solved, b"seed"))).items():
        assert value is None or value >= 0 or CATALOGUE[name].sign != "never negative"


def test_the_deck_goes_down_under_its_load_and_that_counts_as_positive() -> None:
    assert CATALOGUE["midspan deflection"].sign == "downward is positive"
    assert measures(SOLVED, FOUND)["midspan deflection"] > 0


def test_lengths_are_told_apart_to_the_mm_and_sticks_are_counted_for_the_whole_bridge() -> None:
    found = measures(SOLVED, FOUND)
    assert found["distinct lengths"] == 3  # 300, 335 and 150 mm
    # two sides: four of 300 and four of 335 mm from sticks of 900 mm take four, two of 150 mm one of the other kind
    assert found["sticks"] == 5


def test_midspan_deflection_is_downward_positive_and_agrees_with_virtual_work() -> None:
    """Unit-load method (any structures text): sum of N n L / (E A), n the forces of a unit load at midspan."""
    forces = SOLVED.solution.forces
    work = sum(
        forces[m.name] ** 2 / 100 * SOLVED.truss.length_mm(m) / (m.modulus_MPa * m.area_mm2)
        for m in SOLVED.truss.members
    )
    assert measures(SOLVED, FOUND)["midspan deflection"] == pytest.approx(work)


def test_the_analysis_names_what_breaks_first_and_at_what_load() -> None:
    found = analysis(SOLVED)
    assert found.first_failure is not None
    row = next(row for row in found.members if row.name == found.first_failure.member)
    assert row.utilisation == max(member.utilisation for member in found.members)
    assert found.first_failure.load_N == found.failure_load_N == pytest.approx(200 / row.utilisation)


def test_stress_is_force_over_area_with_the_sign_of_the_force() -> None:
    for row in analysis(SOLVED).members:
        assert row.stress_MPa == pytest.approx(row.force_N / row.area_mm2)


def test_a_mechanism_shows_which_joints_move_and_how() -> None:
    found = analysis(MOVING)
    assert (found.state, found.mechanisms, found.moving) == ("mechanism", 1, ("b",))
    motion = {row.name: row.motion for row in found.joints}
    assert motion["a"] is None
    assert max(abs(c) for c in motion["b"]) == pytest.approx(1)
