"""Numbers written for people: three figures, a unit, and never a stray minus nought."""

from __future__ import annotations

import math
from collections.abc import Mapping

WAYS: Mapping[str, str] = {
    "in plane": "in the plane of the truss, as you would see on the drawing",
    "out of plane": "out of the plane of the truss, towards you or away from you",
    "either": "in the plane of the truss or out of it, one as easily as the other",
    "askew": "at a slant to the plane of the truss",
}
"""Which way a strut bends when it buckles."""

SHORT_WAYS: Mapping[str, str] = {
    "in plane": "in the plane",
    "out of plane": "out of the plane",
    "either": "either way",
    "askew": "at a slant",
}
"""The same, short enough for a table."""


def figure(value: float, figures: int = 3) -> str:
    """``value`` to so many significant figures, without an exponent in the usual range.

    Whole numbers of more figures keep them all: 1234.5 is written 1234, not 1230.
    """
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else "without limit"
    value = float(f"{value:.10g}")  # so that rounding noise decides no half: twins print alike
    decimals = figures - 1 - math.floor(math.log10(abs(value)))
    text = f"{value:.{max(0, decimals)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def amount(value: float, unit: str) -> str:
    """A number with its unit; a unit of '' is a pure number, '%' is written from a fraction."""
    if unit == "%":
        return f"{figure(100 * value)} %"
    return f"{figure(value)} {unit}".rstrip()


def listed(names: list[str] | tuple[str, ...]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(names) <= 1:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def plural(count: int, one: str, many: str = "") -> str:
    """``1 joint``, ``2 joints``."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def points(value: float) -> str:
    """Points to two decimals, without noughts at the end: they print as they add up."""
    return f"{value:.2f}".rstrip("0").rstrip(".")
