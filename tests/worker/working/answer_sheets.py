"""Answer sheets worked out by hand, each with the mark that a fair teacher gives, and why (common practice).

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


SHEETS = (
    AnswerSheet(
        "everything right",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-b: 100 T, b-c: 100 T, a-d: 111.8 C, d-c: 111.8 C, b-d: 100 T}}",
        20,
        "Nothing is missing and every answer holds.",
    ),
    AnswerSheet(
        "everything right to three figures",
        HERON,
        "{reactions: {a: 50 up, e: 50 up}, forces: {a-p: 80.0 C, a-b: 62.5 T, b-c: 62.5 T, b-p: 0, p-q: 125 C,"
        " p-c: 80.0 T, c-q: 0, q-r: 125 C, c-r: 80.0 T, r-e: 80.0 C, c-d: 62.5 T, d-e: 62.5 T, d-r: 0}}",
        20,
        "80.0 for 80.04 is what three figures give; nobody asks for more.",
    ),
    AnswerSheet(
        "no working handed in",
        KING_POST,
        "{}",
        0,
        "Nothing was worked out, so nothing is earned, and each thing left out is listed.",
        dict.fromkeys(("a y", "c y", "a-b", "b-c", "a-d", "d-c", "b-d"), "left out"),
    ),
    AnswerSheet(
        "reactions and no further",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}}",
        of(2, 7),
        "Two of seven answers are there and right.",
        dict.fromkeys(("a-b", "b-c", "a-d", "d-c", "b-d"), "left out"),
    ),
    AnswerSheet(
        "one half left out",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-b: 100 T, a-d: 111.8 C, b-d: 100 T}}",
        of(5, 7),
        "The other side is the mirror image, but the student does not say so; what is not written earns nothing.",
        {"b-c": "left out", "d-c": "left out"},
    ),
    AnswerSheet(
        "a slip in the first reaction carried through",
        KING_POST,
        "{reactions: {a: 60 up, c: 40 up}, forces: {a-b: 120 T, a-d: 134.2 C, b-d: 100 T, d-c: 89.4 C, b-c: 80 T}}",
        of(6.5, 7),
        "One slip of moments; 100 - 60 = 40 and both ends are then worked out without a fault.  Penalise once.",
        {"a y": "sense", "c y": "follows", "a-b": "follows", "a-d": "follows", "d-c": "follows", "b-c": "follows"},
        told="in the reaction at a.",
    ),
    AnswerSheet(
        "a slip in one member carried through",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-d: 105 C, a-b: 93.9 T, d-c: 105 C, b-c: 93.9 T, b-d: 93.9 T}}",
        of(6.5, 7),
        "a-d is wrong in size; all the rest is resolved rightly from it, or copied across the middle.",
        {"a-d": "sense", "a-b": "follows", "d-c": "follows", "b-c": "follows", "b-d": "follows"},
        told="It should be 100 N T. At joint a your own forces lead to your 93.9 N T, so the slip came earlier, in a-d.",
    ),
    AnswerSheet(
        "a slip in one member that nothing else rests on",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-d: 105 C, a-b: 100 T, d-c: 111.8 C, b-c: 100 T, b-d: 100 T}}",
        of(6.5, 7),
        "The others are right by themselves, so one answer alone loses, and it has the right sense.",
        {"a-d": "sense"},
        told="You wrote 105 N C. The sense is right, but it is 112 N C. Look at joint a again.",
    ),
    AnswerSheet(
        "two figures swapped in copying",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-d: 118.1 C, a-b: 100 T, d-c: 111.8 C, b-c: 100 T, b-d: 100 T}}",
        of(6.5, 7),
        "118.1 for 111.8 is beyond 2 %; the sense is right.  No method of joints gives it, so it is a slip by itself.",
        {"a-d": "sense"},
    ),
    AnswerSheet(
        "T for C in one member",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-d: 111.8 T, a-b: 100 T, d-c: 111.8 C, b-c: 100 T, b-d: 100 T}}",
        of(6, 7),
        "The sense is half of what is asked and the part that matters in wood; a swapped sign earns nothing.",
        {"a-d": "wrong"},
        told="You wrote 111.8 N T. The size is right, but the member is pushed: it is 112 N C.",
    ),
    AnswerSheet(
        "T for C throughout",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-d: 111.8 T, a-b: 100 C, d-c: 111.8 T, b-c: 100 C, b-d: 100 C}}",
        of(6, 7),
        "One misunderstanding of signs, kept up faithfully at every joint, loses once.",
        {"a-d": "wrong", "a-b": "follows", "d-c": "follows", "b-c": "follows", "b-d": "follows"},
    ),
    AnswerSheet(
        "everything in kN without saying so",
        KING_POST,
        "{reactions: {a: 0.05 up, c: 0.05 up}, forces: {a-b: 0.1 T, b-c: 0.1 T, a-d: 0.1118 C, d-c: 0.1118 C,"
        " b-d: 0.1 T}}",
        of(6.5, 7),
        "The unit is wrong once and kept; a unit is penalised once for the whole question.",
        {"a y": "unit", **dict.fromkeys(("c y", "a-b", "b-c", "a-d", "d-c", "b-d"), "follows")},
        told="That is 1000 times too small, as if it were in kN.",
    ),
    AnswerSheet(
        "one answer alone in kN",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-b: 100 T, b-c: 100 T, a-d: 111.8 C, d-c: 111.8 C, b-d: 0.1 T}}",
        of(6.5, 7),
        "The number is right but for its unit.",
        {"b-d": "unit"},
    ),
    AnswerSheet(
        "everything in kN and saying so",
        KING_POST,
        "{reactions: {a: 0.05 kN up, c: 0.05 kN up}, forces: {a-b: 0.1 kN T, b-c: 0.1 kN T, a-d: 0.1118 kN C,"
        " d-c: 0.1118 kN C, b-d: 0.1 kN T}}",
        20,
        "A force in another unit of force is the same force.",
    ),
    AnswerSheet(
        "masses in place of reactions",
        KING_POST,
        "{reactions: {a: 5.1 kg up, c: 5.1 kg up},"
        " forces: {a-b: 100 T, b-c: 100 T, a-d: 111.8 C, d-c: 111.8 C, b-d: 100 T}}",
        of(6.5, 7),
        "5.1 kg weighs 50 N, but a support pushes with a force.  The second has the same slip, and it counts once.",
        {"a y": "unit", "c y": "follows"},
        told="A number in g or kg is a mass: give its weight, a force.",
    ),
    AnswerSheet(
        "the same slip of units where nothing else repeats",
        TENTS,
        "{reactions: {A: 0.612 up, C: 0.204 up}, forces: {A-D: 10 C, A-B: 8 T, D-B: 3.33 C, D-E: 5.33 C, B-E: 3.33 T,"
        " B-C: 2.67 T, E-C: 3.33 C}}",
        of(8.5, 9),
        "Both reactions are divided by g.  The second is the first slip again, so it counts once.",
        {"A y": "unit", "C y": "follows"},
        told="It should be 2 kN up. Your 0.204 kN up has the same slip of units as the reaction at A.",
    ),
    AnswerSheet(
        "reactions divided by g",
        KING_POST,
        "{reactions: {a: 5.1 up, c: 5.1 up}, forces: {a-b: 100 T, b-c: 100 T, a-d: 111.8 C, d-c: 111.8 C, b-d: 100 T}}",
        of(6.5, 7),
        "As before, only that the unit is not said.  The forces were worked out from 50 N, so they are right.",
        {"a y": "unit", "c y": "follows"},
        told="That is 9.81 times too small: it looks like kg, which is a mass.",
    ),
    AnswerSheet(
        "one answer rounded to one figure",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-d: 111.8 C, a-b: 100 T, d-c: 100 C, b-c: 100 T, b-d: 100 T}}",
        of(6.75, 7),
        "111.8 to one figure is 100: worked out rightly, given too roughly.",
        {"d-c": "rounded"},
        told="You wrote 100 N C. It is 112 N C: keep three figures.",
    ),
    AnswerSheet(
        "every slope rounded to one figure",
        TENTS,
        "{reactions: {A: 6 up, C: 2 up}, forces: {A-D: 10 C, A-B: 8 T, D-B: 3 C, D-E: 5 C, B-E: 3 T, B-C: 3 T, E-C: 3 C}}",
        of(4 + 5 * 0.75, 9),
        "Five answers are right to the figure given and off by up to a tenth: each loses the part for rounding.",
        dict.fromkeys(("D-B", "D-E", "B-E", "B-C", "E-C"), "rounded"),
    ),
    AnswerSheet(
        "a force called zero that is not",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-d: 111.8 C, a-b: 100 T, d-c: 111.8 C, b-c: 100 T, b-d: 0}}",
        of(6, 7),
        "The post hangs the load up; nothing in the other answers says 0.",
        {"b-d": "wrong"},
        told="You wrote 0 N. But it is not 0: it is 100 N T. Look at joint b again.",
    ),
    AnswerSheet(
        "a force for a zero member",
        HERON,
        "{reactions: {a: 50 up, e: 50 up}, forces: {a-p: 80.0 C, a-b: 62.5 T, b-c: 62.5 T, b-p: 0, p-q: 125 C,"
        " p-c: 80.0 T, c-q: 100 T, q-r: 125 C, c-r: 80.0 T, r-e: 80.0 C, c-d: 62.5 T, d-e: 62.5 T, d-r: 0}}",
        of(14, 15),
        "The middle post looks as if it held the load, and joint q shows that it does not.",
        {"c-q": "wrong"},
        told="You wrote 100 N T. But it is a zero member: 0. Look at joint q again.",
    ),
    AnswerSheet(
        "two of three zero members named",
        HERON,
        "{zero members: [b-p, d-r]}",
        of(2, 3),
        "Three are there to be seen; two were seen.",
        {"c-q": "left out"},
        {"asks": "zero members"},
    ),
    AnswerSheet(
        "a member too many named as zero",
        HERON,
        "{zero members: [b-p, c-q, d-r, q-r]}",
        of(3, 4),
        "All three are seen, and one more that carries the most of all: whoever names all members must not earn all.",
        {"q-r": "wrong"},
        {"asks": "zero members"},
    ),
    AnswerSheet(
        "no zero members, and said so",
        KING_POST,
        "{zero members: none}",
        20,
        "That there are none is the answer.",
        options={"asks": "zero members"},
    ),
    AnswerSheet(
        "zero members named and forces for the rest",
        HERON,
        "{zero members: [b-p, c-q, d-r], forces: {a-p: 80 C, a-b: 62.5 T, b-c: 62.5 T, p-q: 125 C, p-c: 80 T,"
        " q-r: 125 C, c-r: 80 T, r-e: 80 C, c-d: 62.5 T, d-e: 62.5 T}}",
        20,
        "To name a zero member and to write 0 for it is the same.",
        options={"asks": ["forces", "zero members"]},
    ),
    AnswerSheet(
        "T, C and 0 by the youngest",
        HERON,
        "{forces: {a-p: C, a-b: T, b-c: T, b-p: 0, p-q: C, p-c: T, c-q: T, q-r: C, c-r: C, r-e: C, c-d: T, d-e: T}}",
        of(10, 13),
        "Thirteen letters were asked for: the middle post is no T, one slope is swapped, one post is left out.",
        {"c-q": "wrong", "c-r": "wrong", "d-r": "left out"},
        {"asks": "senses"},
        told="You wrote C. It is T: the member is pulled. Look at joint",
    ),
    AnswerSheet(
        "a letter without a size where forces are asked for",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-d: C, a-b: 100 T, d-c: 111.8 C, b-c: 100 T, b-d: C}}",
        of(5.5, 7),
        "C for a-d is the right sense alone; C for the post is wrong.",
        {"a-d": "sense", "b-d": "wrong"},
        told="You wrote C. That is right, and its size is missing: it is 112 N C.",
    ),
    AnswerSheet(
        "the load of the whole bridge on one side truss",
        HERON,
        "{reactions: {a: 100 up, e: 100 up}, forces: {a-p: 160 C, a-b: 125 T, b-c: 125 T, b-p: 0, p-q: 250 C,"
        " p-c: 160 T, c-q: 0, q-r: 250 C, c-r: 160 T, r-e: 160 C, c-d: 125 T, d-e: 125 T, d-r: 0}}",
        of(14.5, 15),
        "One wrong number at the start; every step after it is sound.",
        {"a y": "sense", "e y": "follows"}
        | dict.fromkeys(("a-p", "a-b", "b-c", "p-q", "p-c", "q-r", "c-r", "r-e", "c-d", "d-e"), "follows"),
        told="You have just twice as much.",
    ),
    AnswerSheet(
        "sine for cosine throughout",
        KING_POST,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-d: 55.9 C, a-b: 25 T, d-c: 55.9 C, b-c: 25 T, b-d: 100 T}}",
        of(6.5, 7),
        "The one angle was taken wrongly and used alike at every joint: one slip of geometry.",
        {"a-d": "sense", "a-b": "follows", "d-c": "follows", "b-c": "follows"},
        told="It fits if you mixed up sine and cosine: the angle to level is 26.6 degrees.",
    ),
    AnswerSheet(
        "a wrong angle throughout",
        HERON,
        "{reactions: {a: 50 up, e: 50 up}, forces: {a-p: 100 C, a-b: 86.6 T, b-c: 86.6 T, b-p: 0, p-q: 173.2 C,"
        " p-c: 100 T, c-q: 0, q-r: 173.2 C, c-r: 100 T, r-e: 100 C, c-d: 86.6 T, d-e: 86.6 T, d-r: 0}}",
        of(14.5, 15),
        "The slopes were taken as 30 degrees; with that angle every joint balances.",
        {"a-p": "sense"} | dict.fromkeys(("a-b", "b-c", "p-q", "p-c", "q-r", "c-r", "r-e", "c-d", "d-e"), "follows"),
        told="It fits an angle of 30 degrees to level, but it is 38.7 degrees.",
    ),
    AnswerSheet(
        "reactions changed over, no mirror to lean on",
        TENTS,
        "{reactions: {A: 2 up, C: 6 up}, forces: {A-D: 3.33 C, A-B: 2.67 T, D-B: 10 C, D-E: 5.33 T, B-E: 10 T,"
        " B-C: 8 T, E-C: 10 C}}",
        of(8.5, 9),
        "A and C are changed over: one slip; 8 - 2 = 6 follows, and A-D to E-C are resolved from 2 and 6.",
        {"A y": "sense", "C y": "follows", "B-C": "follows"}
        | dict.fromkeys(("A-D", "A-B", "D-B", "D-E", "B-E", "E-C"), "follows"),
    ),
    AnswerSheet(
        "two slips that have nothing to do with each other",
        TENTS,
        "{reactions: {A: 6 up, C: 2 up}, forces: {A-D: 12 C, A-B: 9.6 T, D-B: 3.33 C, D-E: 5.33 C, B-E: 3.33 T,"
        " B-C: 2.67 T, E-C: 3.33 T}}",
        of(7.5, 9),
        "A-D is wrong and A-B follows from it; E-C has the wrong letter by itself.",
        {"A-D": "sense", "A-B": "follows", "E-C": "wrong"},
    ),
    AnswerSheet(
        "a slip in the middle of the truss",
        TENTS,
        "{reactions: {A: 6 up, C: 2 up}, forces: {A-D: 10 C, A-B: 8 T, D-B: 3.33 T, D-E: 10.67 C, B-E: 3.33 C,"
        " B-C: 13.33 T, E-C: 3.33 C}}",
        of(8, 9),
        "D-B has the wrong letter; across at D, upward at B and across at B the rest is resolved from it.",
        {"D-B": "wrong", "D-E": "follows", "B-E": "follows", "B-C": "follows"},
    ),
    AnswerSheet(
        "worked out from the other end",
        TENTS,
        "{reactions: {A: 6 up, C: 2 up}, forces: {E-C: 4 C, B-C: 3.2 T, B-E: 4 T, D-E: 6.4 C, D-B: 4 C, A-B: 9.6 T,"
        " A-D: 10 C}}",
        of(8.5, 9),
        "Begun at C, with one slip in E-C.  From the numbers it might as well lie in D-B: the mark is the same.",
        {"D-B": "sense", "B-C": "follows", "B-E": "follows", "D-E": "follows", "E-C": "follows", "A-B": "follows"},
    ),
    AnswerSheet(
        "a reaction that pushes the wrong way",
        BRACKET,
        "{reactions: {A: 12 up 16 right, B: 16 right}, forces: {A-C: 20 T, B-C: 16 C, A-B: 0}}",
        of(5, 6),
        "16 kN is right and the direction is not; the forces were not worked out from it.",
        {"A x": "wrong"},
        told="You wrote 16 kN right. It is the other way: 16 kN left.",
    ),
    AnswerSheet(
        "a lever arm turned over",
        BRACKET,
        "{reactions: {A: 12 up 9 left, B: 9 right}, forces: {A-C: 20 T, B-C: 9 C, A-B: 0}}",
        of(5.5, 6),
        "12 x 3 / 4 in place of 12 x 4 / 3 at B; A must answer it across, and B-C does.",
        {"A x": "sense", "B x": "follows", "B-C": "follows"},
    ),
    AnswerSheet(
        "a reaction across that nothing calls for",
        KING_POST,
        "{reactions: {a: 50 up 20 right, c: 50 up}, forces: {a-b: 100 T, b-c: 100 T, a-d: 111.8 C, d-c: 111.8 C,"
        " b-d: 100 T}}",
        of(7, 8),
        "No load goes across, so a pushes upward alone; the answer too many counts among the others.",
        {"a x": "wrong"},
        told="But nothing pushes or pulls there: it is 0.",
    ),
    AnswerSheet(
        "a roller on a slope, with a slip across",
        SLOPING,
        "{reactions: {a: 40 up 20 right, b: 40 up 20 left}, forces: {a-b: 33.33 T, a-c: 66.67 C, b-c: 66.67 C}}",
        of(6.5, 7),
        "The slope of the roller was mistaken; a answers b across, and a-b is resolved from it.",
        {"a x": "sense", "b x": "follows", "a-b": "follows"},
    ),
    AnswerSheet(
        "a redundant truss where one force fixes the others",
        CROSSED,
        "{forces: {b-c: 20 C, b-d: 33.3 T, a-b: 26.7 C, a-c: 66.7 C, c-d: 53.3 T, d-a: 20 C}}",
        of(5.5, 6),
        "The share of the two diagonals needs stiffness; after one wrong share each joint gives the rest.",
        {"a-b": "sense", **dict.fromkeys(("b-d", "b-c", "a-c", "c-d", "d-a"), "follows")},
        {"asks": "forces"},
    ),
    AnswerSheet(
        "small differences that add up",
        TENTS,
        "{reactions: {A: 6 up, C: 2 up}, forces: {A-D: 10.1 C, A-B: 8.08 T, D-B: 3.233 C, D-E: 5.494 C, B-E: 3.233 T,"
        " B-C: 2.907 T, E-C: 3.333 C}}",
        20,
        "A-D is 1 % off, as near as asked.  What is resolved from it is up to 9 % off and no new slip.",
        dict.fromkeys(("D-B", "D-E", "B-E", "B-C"), "follows"),
        told="your own forces lead to your 3.233 kN C, so small differences added up there.",
    ),
    AnswerSheet(
        "a whole answer that nobody would round",
        BRACKET,
        "{reactions: {A: 12 up 16 left, B: 16 right}, forces: {A-C: 20 T, B-C: 20 C, A-B: 0}}",
        of(5.5, 6),
        "16 to one figure is 20, but 16 needs no rounding: it is as likely A-C written down twice.",
        {"B-C": "sense"},
    ),
    AnswerSheet(
        "a number too far off to be called rounded",
        HERON,
        "{reactions: {a: 50 up, e: 50 up}, forces: {a-p: 80 C, a-b: 62.5 T, b-c: 62.5 T, b-p: 0, p-q: 100 C,"
        " p-c: 80 T, c-q: 0, q-r: 125 C, c-r: 80 T, r-e: 80 C, c-d: 62.5 T, d-e: 62.5 T, d-r: 0}}",
        of(14.5, 15),
        "125 to one figure is 100, but a fifth off is as likely a slip, and the twin q-r is given in full.",
        {"p-q": "sense"},
    ),
    AnswerSheet(
        "a slip where the forces across say next to nothing",
        LEANING,
        "{reactions: {a: 50 up, c: 50 up}, forces: {a-b: 100 T, b-c: 99 T, a-d: 112 C, d-c: 111 C, b-d: 80 T}}",
        of(6.5, 7),
        "The chords in whole newtons allow the post any force across; upward it must carry the load.",
        {"b-d": "sense"},
    ),
    AnswerSheet(
        "small forces within the teacher's newtons",
        TENTS,
        "{reactions: {A: 6 up, C: 2 up}, forces: {A-D: 10 C, A-B: 8 T, D-B: 3.5 C, D-E: 5.5 C, B-E: 3.5 T, B-C: 2.5 T,"
        " E-C: 3.5 C}}",
        20,
        "Read off a drawing to half a kilonewton, which this teacher allows.",
        options={"or within": "0.2 kN"},
    ),
    AnswerSheet(
        "a teacher who gives nothing for following",
        KING_POST,
        "{reactions: {a: 60 up, c: 40 up}, forces: {a-b: 120 T, a-d: 134.2 C, b-d: 100 T, d-c: 89.4 C, b-c: 80 T}}",
        of(4, 7),
        "Where following earns nothing, the right sense still earns its half: the better reading counts.",
        dict.fromkeys(("a y", "c y", "a-b", "a-d", "d-c", "b-c"), "sense"),
        {"follow through": "0 %"},
    ),
)
