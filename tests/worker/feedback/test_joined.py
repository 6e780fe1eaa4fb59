"""Labels whose letters must join are laid over the drawing; all others stay in it."""

from __future__ import annotations

import re

import pytest

from tests import trusses
from tests.worker.feedback import samples
from worker.feedback.figures import deflected, forces
from worker.feedback.joined import needs_joining, whole_words


@pytest.mark.parametrize(
    ("name", "joins"), [("a1", False), ("قوس", True), ("קשת", True), ("桥", False), ("Жук", False), ("पुल", True)]
)
def test_joined_and_right_to_left_names_are_known(name: str, joins: bool) -> None:
    assert needs_joining(name) is joins


def test_a_joined_name_moves_from_the_drawing_to_the_same_place_over_it() -> None:
    plain = forces(samples.analysis_of(trusses.warren(3, 200, 150, 33)), None).svg
    truss = samples.renamed(trusses.warren(3, 200, 150, 33), {"t1": "قس"})
    printed = whole_words(forces(samples.analysis_of(truss), None).svg)
    drawing, over = printed.split("</svg>")
    assert ">قس</text>" not in drawing
    assert over.count("<span") == 1
    left = re.search(r"left: ([\d.]+)%", over)
    at = re.search(r'<text x="([\d.]+)"[^>]*>t1</text>', plain)
    assert left is not None
    assert at is not None
    assert float(left[1]) * 7.2 == pytest.approx(float(at[1]), abs=2)


def test_a_line_under_a_drawing_stays_where_it_is_and_is_no_bold_label() -> None:
    svg = deflected(
        samples.analysis_of(samples.renamed(trusses.warren(4, 150, 120, 50), {"b2": "قس"})), samples.BRIEF
    ).svg
    line = re.search(r'<text x="8" y="([\d.]+)"[^>]*>(Joint قس[^<]*)</text>', svg)
    assert line is not None
    over = whole_words(svg).split("</svg>")[1]
    said = re.search(rf'<span class="row" style="left: [\d.]+%; top: ([\d.]+)%;[^>]*>{re.escape(line[2])}</span>', over)
    assert said is not None
    height = re.search(r'viewBox="0 0 [\d.]+ ([\d.]+)"', svg)
    assert height is not None
    assert float(said[1]) / 100 * float(height[1]) == pytest.approx(float(line[1]), abs=0.1)


def test_a_drawing_with_plain_names_alone_is_left_as_it_is() -> None:
    svg = forces(samples.analysis_of(trusses.warren(3, 200, 150, 33)), None).svg
    assert whole_words(svg) == svg
