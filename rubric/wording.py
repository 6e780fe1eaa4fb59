"""Numbers written for people: three figures, a unit, and never a stray minus nought."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from rubric.language import Language, _, counted, later, spoken

WAYS: Mapping[str, str] = {
    "in plane": later("in the plane of the truss, as you would see on the drawing"),
    "out of plane": later("out of the plane of the truss, towards you or away from you"),
    "either": later("in the plane of the truss or out of it, one as easily as the other"),
    "askew": later("at a slant to the plane of the truss"),
}
"""Which way a strut bends when it buckles; ``_`` says it."""

SHORT_WAYS: Mapping[str, str] = {
    "in plane": later("in the plane"),
    "out of plane": later("out of the plane"),
    "either": later("either way"),
    "askew": later("at a slant"),
}
"""The same, short enough for a table."""

SHORT_MODES: Mapping[str, str] = {
    "tension": later("pulled apart"),
    "crushing": later("crushed"),
    "buckling": later("buckling"),
    "bending": later("bending"),
    "joint": later("glued end"),
    "none": later("carries nothing"),
}
"""How a member would fail, short enough for a table; ``_`` says it."""

_SIGNS: Mapping[Language, str] = {"en": ".", "de": ","}
"""What stands before the decimals."""

_THOUSANDS: Mapping[Language, str] = {"en": ",", "de": "."}


def figure(value: float, figures: int = 3) -> str:
    """``value`` to so many significant figures for people, without an exponent in the usual range.

    Whole numbers of more figures keep them all: 1234.5 is written 1234, not 1230.
    """
    return localised(plain_figure(value, figures)) if math.isfinite(value) else _("without limit")


def plain_figure(value: float, figures: int = 3) -> str:
    """The same for a file or a program, with a point in every language; ``value`` is finite."""
    if value == 0:
        return "0"
    value = float(f"{value:.10g}")  # so that rounding noise decides no half: twins print alike
    decimals = figures - 1 - math.floor(math.log10(abs(value)))
    text = f"{value:.{max(0, decimals)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def localised(number: str) -> str:
    """A number that is written with a point, with the decimal sign of the language of the moment."""
    return number.replace(".", _SIGNS[spoken()])


def grouped(count: int) -> str:
    """A large whole number with a mark between its thousands: ``65,536``."""
    return f"{count:,}".replace(",", _THOUSANDS[spoken()])


def amount(value: float, unit: str) -> str:
    """A number with its unit; a unit of '' is a pure number, '%' is written from a fraction."""
    if unit == "%":
        return f"{figure(100 * value)} %"
    return f"{figure(value)} {unit}".rstrip()


def listed(names: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(names) <= 1:
        return "".join(names)
    return _("{most} and {last}", most=", ".join(names[:-1]), last=names[-1])


def plural(count: int, one: str, many: str = "") -> str:
    """``1 joint``, ``2 joints``; in another language where a text of the code says the same with ``counted``."""
    return counted(f"{{count}} {one}", f"{{count}} {many or one + 's'}", count)


def points(value: float) -> str:
    """Points to two decimals for people, without noughts at the end: they print as they add up."""
    return localised(plain_points(value))


def plain_points(value: float) -> str:
    """The same for a file or a program, with a point in every language."""
    return f"{value:.2f}".rstrip("0").rstrip(".")
