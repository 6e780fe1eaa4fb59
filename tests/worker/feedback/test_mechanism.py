"""How a mechanism is drawn: it swings without stretching, and what leans is found and hatched."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from rubric.messages.outcomes import Analysis
from tests import trusses
from tests.worker.feedback import gallery, samples, seen
from worker.feedback.figures import mechanism
from worker.feedback.figures.leaning import leaning
from worker.feedback.figures.swing import Places, swing
from worker.truss.model import Truss

SQUARES = {
    "one of two squares": samples.square(),
    "a girder without diagonals": replace(
        trusses.pratt(6), members=tuple(m for m in trusses.pratt(6).members if m.name[0] == m.name[3] or "0" in m.name)
    ),
    "a girder without one diagonal": gallery.without(trusses.pratt(8), "t2-b3"),
}


def furthest(analysis: Analysis) -> object:
    return lambda places: max(math.dist(places[row.name], (row.x_mm, row.y_mm)) for row in analysis.joints)


def stretch(analysis: Analysis, places: Places) -> float:
    return max(abs(math.dist(places[m.start], places[m.end]) - m.length_mm) for m in analysis.members)


@pytest.mark.parametrize("truss", [samples.square(), gallery.without(trusses.pratt(8), "t2-b3")])
def test_a_mechanism_swings_and_its_members_keep_their_length(truss: Truss) -> None:
    analysis = samples.analysis_of(truss)
    steps, true = swing(analysis, 40.0, furthest(analysis))  # type: ignore[arg-type]
    assert true
    for places, least in zip(steps, (15.0, 30.0), strict=True):
        assert stretch(analysis, places) < 1e-3
        assert furthest(analysis)(places) > least  # type: ignore[operator]


def test_a_support_holds_while_a_mechanism_swings() -> None:
    analysis = samples.analysis_of(samples.square())
    for places in swing(analysis, 40.0, furthest(analysis))[0]:  # type: ignore[arg-type]
        assert places["a"] == pytest.approx((0, 0), abs=1e-4)
        assert places["c"][1] == pytest.approx(0, abs=1e-4)


def test_a_critical_form_moves_along_straight_lines_and_the_drawing_says_so() -> None:
    case = gallery.solved(gallery.critical(), gallery.brief())
    assert case.analysis.form == "critical form"
    assert not swing(case.analysis, 40.0, furthest(case.analysis))[1]  # type: ignore[arg-type]
    words = " ".join(seen.words_of(mechanism(case.analysis, case.brief)))
    assert "At first no member changes its length." in words


def test_a_critical_form_has_no_shape_to_blame() -> None:
    assert leaning(gallery.solved(gallery.critical(), gallery.brief()).analysis) == ()


def test_the_square_that_leans_is_found_and_named() -> None:
    analysis = samples.analysis_of(samples.square())
    assert [set(ring) for ring in leaning(analysis)] == [{"b", "c", "e", "f"}]
    assert "is no triangle: it leans" in mechanism(analysis).alternative


def test_a_braced_square_does_not_lean() -> None:
    rings = leaning(samples.analysis_of(SQUARES["a girder without one diagonal"]))
    assert [set(ring) for ring in rings] == [{"t2", "t3", "b2", "b3"}]


def test_a_member_that_hangs_free_leaves_no_shape_to_blame() -> None:
    truss = trusses.warren(3, 200, 150)
    hangs = replace(
        truss, joints={**truss.joints, "x": (300.0, 260.0)}, members=(*truss.members, trusses.member("t1", "x"))
    )
    assert leaning(samples.analysis_of(hangs)) == ()


def test_a_member_that_would_stop_a_mechanism_is_dashed_only_where_it_is_advised() -> None:
    case = gallery.case("a square that leans")
    bar = next(step.bar for step in case.steps if step.bar)
    shown, hidden = mechanism(case.analysis, case.brief, case.steps), mechanism(case.analysis, case.brief)
    assert f"A member from {bar[0]} to {bar[1]} would stop one of the ways to move." in shown.alternative
    assert "would stop" not in hidden.alternative
    assert len(seen.all_of(shown, "line")) == len(seen.all_of(hidden, "line")) + 2  # itself, and the sample of it


def test_where_advice_ends_at_where_to_look_no_member_is_drawn() -> None:
    case = gallery.solved(gallery.without(gallery.pratt(6), "t2-b3"), gallery.brief(advice="where to look"))
    assert [step for step in case.steps if step.bar] == []
