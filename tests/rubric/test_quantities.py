"""Numbers and quantities as people write them, and nothing that Python would also take."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.quantities import DENSITY_UNITS, FORCE_UNITS, LENGTH_UNITS, STRESS_UNITS, number, quantity


@pytest.mark.parametrize(
    ("text", "value"), [("12", 12), ("-0.5", -0.5), (".5", 0.5), ("5.", 5), ("+3e2", 300), ("0", 0)]
)
def test_plain_decimal_numbers_are_read(text: str, value: float) -> None:
    assert number(text) == value


@pytest.mark.parametrize(
    "text",
    [
        "",
        "1_0",
        "0x10",
        "012",
        ".inf",
        "nan",
        "1:30",
        "1,5",
        "\u0661",
        "1e999",
        "1e13",
        "--1",
        "1 2",
        "\u00bd",
        "9" * 50,
    ],
)
def test_whatever_else_python_or_yaml_would_take_is_refused(text: str) -> None:
    assert number(text) is None


@pytest.mark.parametrize(
    ("text", "units", "value"),
    [
        ("12.5 mm", LENGTH_UNITS, 12.5),
        ("12.5mm", LENGTH_UNITS, 12.5),
        ("1 in", LENGTH_UNITS, 25.4),
        ("3.4 GPa", STRESS_UNITS, 3400),
        ("2 N/mm2", STRESS_UNITS, 2),
        ("1 lbf", FORCE_UNITS, 4.4482216152605),
        ("0.16 g/cm3", DENSITY_UNITS, 160),
        ("160 kg/m\u00b3", DENSITY_UNITS, 160),
        ("1e3 N", FORCE_UNITS, 1000),
    ],
)
def test_a_number_with_its_unit_is_turned_into_the_unit_used_inside(text: str, units, value: float) -> None:
    assert quantity(text, units) == pytest.approx(value)


def test_a_number_without_a_unit_takes_the_default_and_without_one_is_refused() -> None:
    assert quantity("7", LENGTH_UNITS, "cm") == 70
    assert quantity("7", LENGTH_UNITS) is None
    assert quantity("7 N", LENGTH_UNITS, "mm") is None


@given(st.floats(-1e11, 1e11).map(lambda x: round(x, 4)))
def test_a_number_written_out_is_read_back(value: float) -> None:
    assert number(f"{value:.4f}") == pytest.approx(value, abs=1e-4)


@given(st.text(max_size=30))
def test_no_text_makes_the_reading_of_numbers_fail(text: str) -> None:
    assert number(text) is None or abs(number(text) or 0) <= 1e12
    assert quantity(text, LENGTH_UNITS, "mm") is None or isinstance(quantity(text, LENGTH_UNITS, "mm"), float)
