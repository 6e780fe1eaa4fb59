"""Labels on drawings collide with nothing, measured in the font that prints them."""

from __future__ import annotations

import re
from functools import cache

import pytest

from rubric.drawing.boxes import Box, text_width
from rubric.messages.outcomes import Figure
from tests import trusses
from tests.worker.feedback import generated, samples, seen
from tests.worker.feedback.kinds import kinds
from worker.feedback.figures import forces
from worker.truss.model import Truss

GIRDERS = [
    (make, panels, depth)
    for panels in range(2, 11)
    for depth in (40, 80, 120, 200)
    for make in (trusses.warren, trusses.pratt)
    if make is trusses.warren or panels % 2 == 0
]


def drawn(truss: Truss) -> Figure:
    return forces(samples.analysis_of(truss), samples.BRIEF)


@cache
def girder_drawn(case: int) -> Figure:
    return drawn(girder(case))


def girder(case: int) -> Truss:
    make, panels, depth = GIRDERS[case]
    return make(panels, 600 / panels, depth, 200 / panels)


@pytest.mark.parametrize("case", range(len(GIRDERS)))
def test_every_member_and_joint_of_a_girder_of_up_to_forty_members_has_its_label(case: int) -> None:
    truss = girder(case)
    words = seen.words_of(girder_drawn(case))
    assert sum(bool(re.search(r"^[\d.]+ [TC]$|^0$", word)) for word in words) == len(truss.members)
    assert set(truss.joints) <= set(words)
    assert "breaks first" in words


@pytest.mark.parametrize("seed", range(generated.COUNT))
def test_no_word_of_any_figure_of_a_generated_truss_collides_or_is_cut_off(seed: int) -> None:
    analysis = generated.analysed(seed)
    assert len(analysis.members) <= 40
    for what, draw in kinds(analysis, samples.BRIEF).items():
        figure = draw()
        if figure is not None:
            assert [*seen.collisions(figure), *seen.cut_off(figure)] == [], what


@pytest.mark.parametrize("seed", range(0, generated.COUNT, 3))
def test_what_has_no_room_is_left_out_and_counted(seed: int) -> None:
    analysis = generated.analysed(seed)
    if analysis.state == "stable":
        words = seen.words_of(forces(analysis, samples.BRIEF))
        numbers = sum(bool(re.search(r"^[\d.]+ [TC]$|^0$", word)) for word in words)
        assert numbers + counted(words, r"^(\d+) numbers? had no room") >= len(analysis.members)
        names = sum(joint.name in words for joint in analysis.joints)
        assert names + counted(words, r"^(\d+) joint names? had no room") == len(analysis.joints)


def counted(words: list[str], said: str) -> int:
    return sum(int(found[1]) for word in words if (found := re.search(said, word)))


def test_the_measure_of_collisions_sees_one() -> None:
    figure = drawn(trusses.warren(3, 200, 150, 33))
    (first, *_) = re.findall(r"<text[^>]*>[^<]*</text>", figure.svg)
    twice = figure.model_copy(update={"svg": figure.svg.replace(first, first * 2, 1)})
    assert list(seen.collisions(figure)) == []
    assert list(seen.collisions(twice)) != []


@pytest.mark.parametrize("text", ["83.1 T", "0", "100 N", "breaks first", "b12", "1234 C", "MWmw", "illi"])
def test_the_width_allowed_for_a_text_is_enough_in_the_font_that_prints_it(text: str) -> None:
    assert seen.width(text, 12) <= text_width(text, 12) <= 1.9 * seen.width(text, 12)


def test_a_turned_box_touches_only_what_it_covers() -> None:
    turned = Box((0, 0), 10, 1, (0.6, 0.8))
    assert turned.touches(Box((5, 7), 1, 1))
    assert not turned.touches(Box((7, -5), 4, 4))
