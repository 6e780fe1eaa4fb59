"""Lines read back from the pages of a PDF, in mm from the upper left corner of the page, y down."""

from __future__ import annotations

import math
from io import BytesIO

import pikepdf

Point = tuple[float, float]
Line = tuple[Point, ...]

_MM = 25.4 / 72
Matrix = tuple[float, float, float, float, float, float]


def sizes_mm(pdf: bytes) -> list[Point]:
    """Width and height of every page."""
    with pikepdf.open(BytesIO(pdf)) as found:
        return [(float(page.MediaBox[2]) * _MM, float(page.MediaBox[3]) * _MM) for page in found.pages]


def lines_mm(pdf: bytes, page: int) -> list[Line]:
    """Every stroked or filled line of straight pieces on one page; curves are left out."""
    with pikepdf.open(BytesIO(pdf)) as found:
        content = pikepdf.parse_content_stream(found.pages[page])
        high = float(found.pages[page].MediaBox[3])
        return _lines(content, high)


def _lines(content: list[pikepdf.ContentStreamInstruction], high: float) -> list[Line]:
    matrix: Matrix = (1, 0, 0, 1, 0, 0)
    kept: list[Matrix] = []
    done: list[Line] = []
    here: list[list[Point]] = []
    for instruction in content:
        given, operator = instruction.operands, str(instruction.operator)
        if operator == "q":
            kept.append(matrix)
        elif operator == "Q":
            matrix = kept.pop()
        elif operator == "cm":
            matrix = _times(tuple(map(float, given)), matrix)
        elif operator == "m":
            here.append([_page(given, matrix, high)])
        elif operator == "l":
            here[-1].append(_page(given, matrix, high))
        elif operator in ("h", "s", "b", "b*") and here and here[-1]:
            here[-1].append(here[-1][0])
        elif operator == "c" and here:
            here[-1].clear()
        if operator in ("S", "s", "f", "f*", "B", "B*", "b", "b*", "n"):
            done += [tuple(line) for line in here if len(line) > 1 and operator != "n"]
            here = []
    return done


def _times(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def _page(given: list[object], matrix: Matrix, high: float) -> Point:
    x, y = float(given[0]), float(given[1])
    a, b, c, d, e, f = matrix
    return (a * x + c * y + e) * _MM, (high - (b * x + d * y + f)) * _MM


def nearest_mm(wanted: Line, found: list[Line]) -> float:
    """How far the ends of the best-fitting found line of two ends are from the wanted one."""
    a, b = wanted
    ends = [line for line in found if len(line) == 2 or (len(line) == 3 and line[0] == line[1])]
    return min(
        (
            min(
                max(math.dist(a, line[0]), math.dist(b, line[-1])),
                max(math.dist(b, line[0]), math.dist(a, line[-1])),
            )
            for line in ends
        ),
        default=math.inf,
    )
