"""Sticks as rectangles, cut off where a page ends."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rubric.brief import Stick
from tests.worker.feedback.plan import bridges
from worker.feedback.plan.outlines import bars, clipped, cropped

LOW, HIGH = (0.0, 0.0), (10.0, 6.0)
PLACE = st.tuples(st.floats(-20, 20), st.floats(-20, 20))


def test_a_stick_is_as_long_as_its_member_and_as_wide_as_its_section() -> None:
    for bar in bars(bridges.analysis_of(bridges.TYPICAL), bridges.BRIEF):
        a, b, c, d = bar.corners
        assert math.dist(a, b) == pytest.approx(bar.member.length_mm)
        assert math.dist(b, c) == pytest.approx(5.0)
        assert math.dist(a, c) == pytest.approx(math.dist(b, d))


@pytest.mark.parametrize(
    ("section", "wide"),
    [
        ("3 x 6 mm", 6.0),
        ("6 x 3 mm", 6.0),
        ("round 4 mm", 4.0),
        ("L 10 x 8 x 1.5 mm", 10.0),
        ("T 12 x 9 x 1.5 mm", 9.0),
    ],
)
@pytest.mark.parametrize("count", [1, 2])
def test_the_width_is_that_of_the_face_in_the_plane_however_many_sticks(section: str, wide: float, count: int) -> None:
    stick = Stick.model_validate({"section": section, "length": 900, "count": 40})
    found = bridges.analysis_of(bridges.TYPICAL, doubled=("b0-b1",) * (count - 1))
    assert bars(found, bridges.brief(600, stock={"square5": stick}))[0].width_mm == wide


@given(PLACE, PLACE)
def test_what_is_kept_of_a_line_lies_on_it_and_within(a: tuple[float, float], b: tuple[float, float]) -> None:
    assume(math.dist(a, b) > 0.1)
    kept = clipped((a, b), LOW, HIGH)
    for x, y in kept or ():
        assert -1e-9 <= x <= 10 + 1e-9
        assert -1e-9 <= y <= 6 + 1e-9
        assert math.dist(a, (x, y)) + math.dist((x, y), b) == pytest.approx(math.dist(a, b))
    if all(LOW[i] <= end[i] <= HIGH[i] for end in (a, b) for i in (0, 1)):
        assert kept == (pytest.approx(a), pytest.approx(b))


@pytest.mark.parametrize(
    ("line", "kept"),
    [
        (((-5.0, 3.0), (15.0, 3.0)), ((0.0, 3.0), (10.0, 3.0))),
        (((2.0, -1.0), (2.0, 9.0)), ((2.0, 0.0), (2.0, 6.0))),
        (((-1.0, 7.0), (11.0, 7.0)), None),
        (((-4.0, 4.0), (1.0, 9.0)), None),
    ],
)
def test_a_line_is_cut_off_where_the_page_ends(line: object, kept: object) -> None:
    assert clipped(line, LOW, HIGH) == kept  # type: ignore[arg-type]


def test_an_outline_is_cropped_to_the_page() -> None:
    assert set(cropped(((-5, 1), (5, 1), (5, 2), (-5, 2)), LOW, HIGH)) == {(0, 1), (5, 1), (5, 2), (0, 2)}
    assert cropped(((-5, 1), (-4, 1), (-4, 2)), LOW, HIGH) == ()
