"""The example to begin with fits the brief it is made for."""

from __future__ import annotations

import pytest
from hypothesis import example as explicit
from hypothesis import given
from hypothesis import strategies as st

from rubric import library
from rubric.brief import Limits
from service.classes.starting import example
from tests.service.site import Site
from worker.marker import mark_file
from worker.sketching import look

BRIEF = library.brief("footbridge")


@pytest.mark.parametrize("name", library.brief_names())
def test_the_example_of_each_ready_brief_can_be_read_stands_and_keeps_the_limits(name: str) -> None:
    brief = library.brief(name)
    seen = look(example(brief).encode(), brief)
    assert (seen.mistakes, seen.limits_broken, seen.remarks) == ((), (), ())
    assert seen.stands is (None if brief.problem else True)
    assert seen.answers == (3 if brief.problem else 0)


@pytest.mark.parametrize("name", [name for name in library.brief_names() if library.brief(name).problem is None])
def test_the_example_leaves_at_least_a_third_of_the_points_to_be_earned(name: str) -> None:
    brief = library.brief(name)
    marks = mark_file(example(brief).encode(), brief, library.rubric(name)).marks
    assert marks.total + marks.waiting <= 2 / 3 * marks.out_of


@given(
    span=st.integers(100, 2000),
    places=st.lists(st.integers(1, 99), min_size=1, max_size=5, unique=True),
    longest=st.none() | st.integers(40, 400),
    above=st.none() | st.integers(0, 400),
    below=st.none() | st.integers(0, 400),
)
@explicit(span=307, places=[1], longest=52, above=None, below=None)  # rounded up, a member was too long
def test_an_example_of_any_brief_can_be_read_and_stands(
    span: int, places: list[int], longest: int | None, above: int | None, below: int | None
) -> None:
    limits = Limits.model_construct(longest_member_mm=longest, depth_above_mm=above, depth_below_mm=below)
    load = BRIEF.load.model_copy(update={"places": tuple(span * p / 100 for p in places)})
    brief = BRIEF.model_copy(update={"span_mm": float(span), "load": load, "limits": limits})
    text = example(brief)
    if text:
        seen = look(text.encode(), brief)
        assert (seen.mistakes, seen.stands) == ((), True)
        assert not [line for line in seen.limits_broken if "above" in line or "below" in line or "long" in line]


def test_without_any_room_for_a_chord_there_is_no_example() -> None:
    flat = BRIEF.limits.model_copy(update={"depth_above_mm": 0.0, "depth_below_mm": 0.0})
    assert example(BRIEF.model_copy(update={"limits": flat})) == ""


def test_the_page_offers_the_example_and_puts_it_into_the_field(site: Site) -> None:
    client, address = site.signed_in("Ada Fern"), f"/assignments/{site.assignment}"
    assert "My first truss" not in client.get(address).text.partition("<textarea")[2]
    field = client.get(f"{address}?begin=example").text.partition("<textarea")[2].partition("</textarea>")[0]
    assert "title: My first truss" in field
    assert "  b0-b1: square3" in field
