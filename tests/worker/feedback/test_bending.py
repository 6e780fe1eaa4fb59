"""How the truss bends, and how full its members are."""

from __future__ import annotations

import re

import pytest

from rubric.drawing import palette
from rubric.messages.outcomes import Figure
from rubric.wording import amount
from tests.worker.feedback import gallery, seen
from worker.feedback.figures import deflected, utilisation
from worker.feedback.figures.utilisation import STEPS, step_of

STABLE = [name for name in gallery.TYPICAL if gallery.case(name).analysis.state == "stable"]


def bent(name: str) -> Figure:
    case = gallery.case(name)
    return deflected(case.analysis, case.brief)


@pytest.mark.parametrize("name", STABLE)
def test_movements_are_enlarged_by_one_round_number_which_is_said(name: str) -> None:
    (times,) = re.findall(r"Movements are drawn (\d+) times too large", " ".join(seen.words_of(bent(name))))
    assert times[0] in "125"
    assert set(times[1:]) <= {"0"}


@pytest.mark.parametrize("name", STABLE)
def test_the_deflection_at_midspan_is_that_of_the_outcome(name: str) -> None:
    analysis = gallery.case(name).analysis
    said = amount(analysis.midspan_deflection_mm, "mm")
    assert said in " ".join(seen.words_of(bent(name)))
    assert said in bent(name).alternative


def test_the_drawn_way_down_is_the_deflection_times_what_is_said() -> None:
    case = gallery.case("warren 6")
    figure = deflected(case.analysis, case.brief)
    lines = [line for line in seen.all_of(figure, "line") if line.get("stroke") == palette.MOVEMENT]
    low = max(float(line.get(key, 0)) for line in lines[:-1] for key in ("y1", "y2"))
    scale = 596 / 600  # units of the drawing for each mm of this span
    assert low / scale == pytest.approx(10 * case.analysis.midspan_deflection_mm, rel=0.01)


def test_a_movement_too_large_for_the_page_is_drawn_smaller_and_says_so() -> None:
    assert "times too small: they would leave the page." in " ".join(
        seen.words_of(bent("flat triangle")) + seen.words_of(bent("far too weak"))
    )


def test_a_mechanism_neither_bends_nor_is_full() -> None:
    case = gallery.case("a square that leans")
    assert deflected(case.analysis, case.brief) is None
    assert utilisation(case.analysis, case.brief) is None


@pytest.mark.parametrize("name", STABLE)
def test_every_member_has_its_share_in_percent(name: str) -> None:
    case = gallery.case(name)
    figure = utilisation(case.analysis, case.brief)
    words = seen.words_of(figure)
    left_out = sum(int(n) for n in re.findall(r"(\d+) numbers? had no room", " ".join(words)))
    shown = sum(amount(row.utilisation, "%") in words for row in case.analysis.members)
    assert shown + left_out >= len(case.analysis.members)


def test_just_full_is_not_too_much() -> None:
    assert [step_of(used).said for used in (0.25, 0.2501, 1.0, 1.0001, 50.0)] == [
        "under 25 %",
        "25 to 50 %",
        "75 to 100 %",
        "over 100 %: too much",
        "over 100 %: too much",
    ]


def test_a_fuller_member_is_drawn_thicker() -> None:
    case = gallery.case("warren 6")
    lines = seen.within(seen.all_of(utilisation(case.analysis, case.brief), "g")[0], "line")
    widths = {float(line.get("stroke-width", 0)) for line in lines}
    used = {step_of(row.utilisation).wide for row in case.analysis.members if row.utilisation}
    assert used <= widths
    assert len(used) == 4


def test_the_words_count_the_members_of_each_step() -> None:
    case = gallery.case("warren 6")
    said = utilisation(case.analysis, case.brief).alternative
    for step in STEPS:
        count = sum(step_of(row.utilisation) is step for row in case.analysis.members)
        assert not count or f"{count} member{'s' if count > 1 else ''} {step.said.split(':')[0]}" in said
    assert "The fullest are t2-t3 156 %" in said
