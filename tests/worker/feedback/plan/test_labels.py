"""Names on the plan: none touches a stick, a seam, or another name, and all stay on the page."""

from __future__ import annotations

from itertools import combinations
from math import cos, radians, sin

import pytest

from rubric.drawing.boxes import Box, text_width
from tests import trusses
from tests.worker.feedback.plan import bridges
from worker.feedback.plan.labels import Word
from worker.feedback.plan.outlines import Bar, bars
from worker.feedback.plan.printing import building
from worker.feedback.plan.tiles import MARGIN_MM, Tile
from worker.truss.model import Truss

SHAPES = [bridges.SMALL, bridges.TYPICAL, bridges.FLAT, bridges.DEEP]


def room(word: Word) -> Box:
    """The room a word takes: its capitals and figures."""
    angle = radians(word.turned)
    return Box((word.x, word.y), text_width(word.text, word.size) / 2, 0.36 * word.size, (cos(angle), sin(angle)))


def on_page(tile: Tile, bar: Bar) -> Box:
    box = bar.box
    return Box(tile.place(box.at), box.along, box.across, (box.axis[0], -box.axis[1]))


@pytest.mark.parametrize("truss", [*SHAPES, *(trusses.triangulated(seed, 9) for seed in range(25))])
def test_no_name_touches_a_stick_or_another_name_or_leaves_the_page(truss: Truss) -> None:
    found = bridges.analysis_of(truss)
    plan = building(found, bridges.BRIEF, "A4")
    assert plan.grid is not None
    for tile, page in zip(plan.grid.tiles, plan.pages, strict=True):
        rooms = [room(word) for word in page.words]
        sticks = [on_page(tile, bar) for bar in bars(found, bridges.BRIEF)]
        assert not [1 for word in rooms for stick in sticks if word.touches(stick)]
        assert not [1 for one, other in combinations(rooms, 2) if one.touches(other)]
        for left, top, right, low in (word.bounds for word in rooms):
            assert min(left, top) >= MARGIN_MM
            assert right <= plan.grid.wide - MARGIN_MM
            assert low <= plan.grid.high - MARGIN_MM


@pytest.mark.parametrize("truss", SHAPES)
def test_every_joint_and_every_stick_is_named_on_some_page(truss: Truss) -> None:
    plan = building(bridges.analysis_of(truss), bridges.BRIEF, "A4")
    said = [word.text for page in plan.pages for word in page.words]
    for joint in truss.joints:
        assert any(text.split(" (")[0] == joint for text in said)
    for member in truss.members:
        assert any(f": {member.name}" in text for text in said)
