"""Answer sheets worked out by hand: the trusses, and what a sheet says.

A sheet names what is not right; every other answer asked for is right.  Points are out of 20 and shared
evenly; a part of a share is: right or following from a slip 1, rounded too far 3/4, the wrong unit or
the right sense alone 1/2, wrong or left out 0.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

KING_POST = """\
joints: {a: [0, 0], b: [300, 0], c: [600, 0], d: [300, 150]}
members: {a-b: , b-c: , a-d: , d-c: , b-d: }
supports: {a: pin, c: roller}
loads: {b: [0, -100]}
"""
"""Rise 1 in 2: reactions 50 N; a-b and b-c 100 N T, a-d and d-c 111.8 N C, b-d 100 N T."""

HERON = """\
joints: {a: [0, 0], b: [150, 0], c: [300, 0], d: [450, 0], e: [600, 0], p: [150, 120], q: [300, 120], r: [450, 120]}
members: {a-b: , b-c: , c-d: , d-e: , a-p: , p-q: , q-r: , r-e: , b-p: , c-q: , d-r: , p-c: , c-r: }
supports: {a: pin, e: roller}
loads: {c: [0, -100]}
"""
"""Reactions 50 N; bottom chord 62.5 N T, top chord 125 N C, all slopes 80.04 N (outer C, inner T), three zero members."""

TENTS = """\
units: m
force: kN
joints: {A: [0, 0], B: [4, 0], C: [8, 0], D: [2, 1.5], E: [6, 1.5]}
members: {A-B: , B-C: , D-E: , A-D: , D-B: , B-E: , E-C: }
supports: {A: pin, C: roller}
loads: {D: [0, -8]}
"""
"""Slopes 3 to 4.  A 6 kN, C 2 kN up; A-D 10 C, A-B 8 T, D-B 3.333 C, D-E 5.333 C, B-E 3.333 T, B-C 2.667 T, E-C 3.333 C."""

BRACKET = """\
units: m
force: kN
joints: {A: [0, 3], B: [0, 0], C: [4, 0]}
members: {A-B: , B-C: , A-C: }
supports: {A: pin, B: roller y}
loads: {C: [0, -12]}
"""
"""On a wall.  A 16 kN left and 12 kN up, B 16 kN right; A-C 20 T, B-C 16 C, A-B 0."""

CROSSED = """\
joints: {a: [0, 0], b: [400, 0], c: [400, 300], d: [0, 300]}
members:
  a-b: {area: 25 mm2, modulus: 3400 MPa}
  b-c: {area: 25 mm2, modulus: 3400 MPa}
  c-d: {area: 25 mm2, modulus: 3400 MPa}
  d-a: {area: 25 mm2, modulus: 3400 MPa}
  a-c: {area: 25 mm2, modulus: 3400 MPa}
  b-d: {area: 25 mm2, modulus: 3400 MPa}
supports: {a: pin, d: roller y}
loads: {c: [0, -60]}
"""
"""One member more than needed, so equilibrium alone does not give the forces."""

SLOPING = """\
joints: {a: [0, 0], b: [400, 0], c: [200, 150]}
members: {a-b: , a-c: , b-c: }
supports: {a: pin, b: roller 45}
loads: {c: [0, -80]}
"""
"""The roller on a slope of 45 degrees pushes up and to the left alike: b 40 N up, 40 N left; a 40 N up, 40 N right."""


LEANING = KING_POST.replace("[300, 150]", "[302, 150]")
"""The post leans by less than a degree: forces across say next to nothing of it."""


@dataclass(frozen=True)
class AnswerSheet:
    """One sheet: what was written, what is not right, the points, and why that is fair."""

    name: str
    truss: str
    working: str
    points: float
    because: str
    not_right: dict[str, str] = field(default_factory=dict)
    options: dict[str, Any] = field(default_factory=dict)
    """Of the criterion; without any: reactions and forces within 2 %."""
    told: str = ""
    """Words that the student reads."""


def of(share: float, all_: int) -> float:
    """The points for so many whole shares of all."""
    return round(20 * share / all_, 2)
