"""Sheets in which answers follow from an earlier slip, each with its fair mark and why (common practice)."""

from __future__ import annotations

from tests.worker.working.sheets import BRACKET, CROSSED, HERON, KING_POST, SLOPING, TENTS, AnswerSheet, of

SHEETS = (
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
        "a lever arm turned over",
        BRACKET,
        "{reactions: {A: 12 up 9 left, B: 9 right}, forces: {A-C: 20 T, B-C: 9 C, A-B: 0}}",
        of(5.5, 6),
        "12 x 3 / 4 in place of 12 x 4 / 3 at B; A must answer it across, and B-C does.",
        {"A x": "sense", "B x": "follows", "B-C": "follows"},
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
        "a teacher who gives nothing for following",
        KING_POST,
        "{reactions: {a: 60 up, c: 40 up}, forces: {a-b: 120 T, a-d: 134.2 C, b-d: 100 T, d-c: 89.4 C, b-c: 80 T}}",
        of(4, 7),
        "Where following earns nothing, the right sense still earns its half: the better reading counts.",
        dict.fromkeys(("a y", "c y", "a-b", "a-d", "d-c", "b-c"), "sense"),
        {"follow through": "0 %"},
    ),
)
