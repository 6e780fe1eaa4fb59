"""What is said beyond the first failure, word for word where it depends on the brief."""

from __future__ import annotations

from rubric import library
from rubric.brief import TRAVELLING, Brief
from tests.corpus.mistaken import G as GOOD
from worker.advice.findings import findings
from worker.analysis import analysis, solve
from worker.outlook import outlook
from worker.truss.reader import read_truss

FOOTBRIDGE = library.brief("footbridge")


def said(places: object = "midspan", text: str = GOOD, **more: object) -> dict[str, str]:
    load = FOOTBRIDGE.load.model_copy(update={"places": places})
    brief: Brief = FOOTBRIDGE.model_copy(update={"load": load, **more})
    solved = solve(read_truss(text.encode(), brief), brief)
    found = analysis(solved, outlook(solved, text.encode()))
    return {finding.title: finding.text for finding in findings(found, brief)}


def test_a_load_that_stands_still_does_not_move() -> None:
    assert "As the load moves" not in said()


def test_a_load_that_moves_is_told_where_it_is_worst() -> None:
    assert said(TRAVELLING)["As the load moves"] == (
        "We put the whole load on each deck joint in turn: b. It is worst on joint b, and drawn there. "
        "Each member is either pulled or pushed, wherever the load stands."
    )


def test_stiff_joints_are_told_as_what_was_asked_and_not_as_a_warning() -> None:
    found = said(joints="rigid")
    assert found["Stiff joints"].startswith("Your brief counts the glued joints as stiff, so members are bent as well.")
    assert "Glued joints" not in found
