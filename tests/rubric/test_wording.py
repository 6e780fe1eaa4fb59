"""Numbers as people read them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.language import speaking
from rubric.wording import amount, figure, listed, plain_figure, plain_points, plural, points


@pytest.mark.parametrize(
    ("value", "text"),
    [(0, "0"), (-0.0, "0"), (1234.5, "1234"), (236.7059, "237"), (0.8449, "0.845"), (12.0, "12"), (-3.14159, "-3.14"),
     (0.00012345, "0.000123"), (100000, "100000"), (99.96, "100")],
)  # fmt: skip
def test_three_figures_and_no_exponent(value: float, text: str) -> None:
    assert figure(value) == text


def test_an_amount_has_its_unit_and_a_pure_number_has_none() -> None:
    assert [amount(48.2, "g"), amount(0.845, "%"), amount(646.43, "")] == ["48.2 g", "84.5 %", "646"]


def test_lists_and_plurals_read_as_sentences() -> None:
    assert listed(["a"]) == "a"
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert (plural(1, "joint"), plural(2, "joint"), plural(0, "way")) == ("1 joint", "2 joints", "0 ways")


def test_numbers_for_people_have_the_decimal_sign_of_the_language_and_numbers_for_files_a_point() -> None:
    with speaking("de"):
        assert [figure(0.8449), amount(48.2, "g"), points(2.5)] == ["0,845", "48,2 g", "2,5"]
        assert [figure(math.inf), listed(["a", "b", "c"])] == ["ohne Grenze", "a, b und c"]
        assert [plain_figure(0.8449), plain_points(2.5)] == ["0.845", "2.5"]


@given(st.integers(0, 100000).map(lambda n: n / 100))
def test_points_print_as_they_add_up(value: float) -> None:
    assert float(points(value)) == value


@given(st.floats(1e-6, 1e6))
def test_a_figure_is_within_half_a_unit_of_its_last_place(value: float) -> None:
    assert float(figure(value)) == pytest.approx(value, rel=0.006)
