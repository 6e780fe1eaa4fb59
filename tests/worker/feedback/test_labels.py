"""Labels on drawings collide with nothing, measured in the font that prints them."""

from __future__ import annotations

import re
from functools import cache

import pytest

from rubric.drawing.boxes import Box, text_width
from rubric.messages.outcomes import Figure
from tests import trusses
from tests.worker.feedback import samples, seen
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
def test_no_label_of_a_girder_of_up_to_forty_members_collides(case: int) -> None:
    assert list(seen.collisions(drawn(girder(case)))) == []


@pytest.mark.parametrize("case", range(len(GIRDERS)))
def test_every_member_and_joint_of_a_girder_of_up_to_forty_members_has_its_label(case: int) -> None:
    truss = girder(case)
    words = seen.words_of(girder_drawn(case))
    assert sum(bool(re.search(r"^[\d.]+ [TC]$|^0$", word)) for word in words) == len(truss.members)
    assert set(truss.joints) <= set(words)
    assert "breaks first" in words


@pytest.mark.parametrize("seed", range(40))
def test_no_label_of_a_tangled_truss_collides(seed: int) -> None:
    assert list(seen.collisions(drawn(trusses.triangulated(seed, 3 + seed % 18)))) == []


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
