"""Numbers and quantities as people write them: ``120``, ``12.5 mm``, ``3.4 GPa``.

Only plain decimal numbers are read.  What Python or YAML would also take (``1_0``, ``0x10``,
``012`` as ten, ``.inf``, Arabic digits, ``1:30``) is refused, because the writer may mean
something else.
"""

from __future__ import annotations

import math
import re

LENGTH_UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}
FORCE_UNITS = {"N": 1.0, "kN": 1000.0, "lbf": 4.4482216152605}
AREA_UNITS = {"mm2": 1.0, "cm2": 100.0, "m2": 1e6, "in2": 645.16}
STRESS_UNITS = {"MPa": 1.0, "GPa": 1000.0, "kPa": 1e-3, "Pa": 1e-6, "N/mm2": 1.0, "psi": 6.894757293168e-3}
MASS_UNITS = {"g": 1.0, "kg": 1000.0}
DENSITY_UNITS = {"kg/m3": 1.0, "g/cm3": 1000.0}
DURATION_UNITS = {
    "min": 1.0,
    "minute": 1.0,
    "minutes": 1.0,
    "h": 60.0,
    "hour": 60.0,
    "hours": 60.0,
    "day": 1440.0,
    "days": 1440.0,
}
ANGLE_UNITS = {"degrees": 1.0, "deg": 1.0}
"""Factors to the units used inside: mm, N, mm2, MPa, g, kg/m3, minutes, degrees.

The inch, the pound-force and the psi are exact or to 13 figures: NIST SP 811, appendix B.8.
"""

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s2: 3rd CGPM (1901), in the SI Brochure."""

LARGEST = 1e12
"""No model truss has a number beyond this; sums and squares of smaller ones stay finite."""

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_QUANTITY = re.compile(r"(?P<number>[+-]?[0-9.]+(?:[eE][+-]?[0-9]{1,3})?)\s*(?P<unit>[A-Za-z][A-Za-z0-9/]*)?")
_LEADING_ZEROS = re.compile(r"[+-]?0[0-9]")


def number(text: str) -> float | None:
    """Read a plain decimal number; None where ``text`` is anything else, or absurdly large."""
    text = text.strip()
    if len(text) > 40 or not _NUMBER.fullmatch(text) or _LEADING_ZEROS.match(text):
        return None
    value = float(text)
    return value if math.isfinite(value) and abs(value) <= LARGEST else None


def quantity(text: str, units: dict[str, float], default: str | None = None) -> float | None:
    """Read a number with one of ``units`` and return it in the unit used inside.

    A number without a unit is taken in ``default``; where there is no default it is refused.
    """
    match = _QUANTITY.fullmatch(text.strip().replace("\N{SUPERSCRIPT TWO}", "2").replace("\N{SUPERSCRIPT THREE}", "3"))
    if match is None:
        return None
    value = number(match["number"])
    unit = match["unit"] or default
    if value is None or unit is None or unit not in units:
        return None
    return value * units[unit]
