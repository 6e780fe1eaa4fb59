"""Sections as a brief writes them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.profiles import Profile, read_profile

WRITTEN = [
    ("5 x 5 mm", "rectangle", (5, 5), "5 × 5 mm"),
    ("6x3mm", "rectangle", (6, 3), "6 × 3 mm"),
    ("6 × 3 mm", "rectangle", (6, 3), "6 × 3 mm"),
    ("round 4 mm", "round", (4,), "round 4 mm"),
    ("Round 4.5mm", "round", (4.5,), "round 4.5 mm"),
    ("L 10 x 8 x 1.5 mm", "L", (10, 8, 1.5), "L 10 × 8 × 1.5 mm"),
    ("t 12x10x1.5 mm", "T", (12, 10, 1.5), "T 12 × 10 × 1.5 mm"),
]


@pytest.mark.parametrize(("text", "kind", "sides", "said"), WRITTEN)
def test_a_section_is_read_and_said_as_people_write_it(
    text: str, kind: str, sides: tuple[float, ...], said: str
) -> None:
    found = read_profile(text)
    assert (found.kind, found.sides_mm) == (kind, sides)
    assert found.said == said


@given(
    kind=st.sampled_from(["rectangle", "round", "L", "T"]),
    sides=st.tuples(*[st.floats(3, 500)] * 2),
    thin=st.floats(0.1, 2.9),
)
def test_what_is_written_is_read_back_the_same(kind, sides: tuple[float, ...], thin: float) -> None:
    count = {"rectangle": 2, "round": 1}.get(kind, 3)
    profile = Profile(kind, (*sides, thin)[:count])
    assert read_profile(str(profile)) == profile


def test_two_bare_numbers_are_a_rectangle() -> None:
    assert read_profile([6, 3]) == read_profile((6.0, 3.0)) == Profile("rectangle", (6.0, 3.0))
