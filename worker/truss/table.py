"""The truss file as one table saved from a spreadsheet.

In: text such as ``joint,a,0,0`` / ``member,a-b,square5``.  Out: the tree that the YAML of the
same truss would give, each value with its line and column, so that one reader serves both.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass, field

from rubric.language import _, counted
from rubric.located import Mapping, Node, Place, Scalar, Sequence, mapping
from rubric.problems import Findings, quoted
from rubric.spelling import did_you_mean, nearest

SINGLES = {"title": "title", "units": "units", "force": "force"}
BLOCKS = {
    "joint": "joints",
    "member": "members",
    "support": "supports",
    "settlement": "settlements",
    "misfit": "misfits",
    "load": "loads",
}
WORKING = {"working reaction": "reactions", "working force": "forces", "working zero": "zero members"}
ROWS = (*SINGLES, *BLOCKS, *WORKING)

_EXAMPLES = {
    "title": "title,My bridge",
    "units": "units,mm",
    "force": "force,N",
    "joint": "joint,a,0,0",
    "member": "member,a-b,square5",
    "support": "support,a,pin",
    "settlement": "settlement,b,0,-2 mm",
    "misfit": "misfit,a-b,2 mm",
    "load": "load,c,0,-20",
    "working reaction": "working reaction,a,50 up",
    "working force": "working force,a-b,80 C",
    "working zero": "working zero,b-d",
}
_ALONE = ("member", "working zero")
"""Rows that may end with the name."""

_FIRST_ROW = re.compile(rf'\s*"?(?:{"|".join(ROWS)})"?\s*([,;\t])', re.IGNORECASE)


def separator(text: str) -> str | None:
    """The character between the cells, or None where the text is no such table.

    The first line that is neither empty nor a comment decides.
    """
    for line in text.split("\n"):
        if line.strip(" ,;\t") and not line.lstrip().startswith("#"):
            match = _FIRST_ROW.match(line)
            return match[1] if match else None
    return None


def read_table(text: str, between: str, findings: Findings) -> Mapping:
    """Read the table; rows that cannot be used are noted in ``findings`` and left out."""
    table = _Table(findings)
    for number, line in enumerate(text.split("\n"), start=1):
        if line.strip(f" \t{between}") and not line.lstrip().startswith("#"):
            cells = _cells(line, number, between, table.findings)
            if cells:
                table.take(cells)
    return table.tree()


@dataclass
class _Table:
    findings: Findings
    singles: list[tuple[Scalar, Node]] = field(default_factory=list)
    blocks: dict[str, list[tuple[Scalar, Node]]] = field(default_factory=dict)
    places: dict[str, Place] = field(default_factory=dict)

    def take(self, cells: list[Scalar]) -> None:
        word = self._word(cells[0])
        if word is None:
            return
        if len(cells) < 2 or (len(cells) < 3 and word not in (*SINGLES, *_ALONE)):
            self._too_short(word, cells)
        elif word in SINGLES:
            self.singles.append((Scalar(SINGLES[word], cells[0].place), self._only(word, cells)))
        else:
            block = BLOCKS.get(word) or WORKING[word]
            self.places.setdefault(block, cells[0].place)
            self.blocks.setdefault(block, []).append((cells[1], self._value(word, cells)))

    def _word(self, cell: Scalar) -> str | None:
        """What kind of row it is; a word misspelt is noted and read as the nearest one."""
        word = cell.text.casefold()
        if word in ROWS:
            return word
        found = _("a row that begins with {word}", word=quoted(cell.text))
        self.findings.add(cell.place, found, _("a row of the truss file"), did_you_mean(word, ROWS))
        return nearest(word, ROWS)

    def _too_short(self, word: str, cells: list[Scalar]) -> None:
        self.findings.add(
            cells[0].place,
            counted("a '{word}' row of {count} cell", "a '{word}' row of {count} cells", len(cells), word=word),
            _("a row such as '{example}'", example=_EXAMPLES[word]),
            _("fill in the missing cells."),
        )

    def _only(self, word: str, cells: list[Scalar], most: int = 2) -> Scalar:
        if len(cells) > most:
            self.findings.add(
                cells[most].place,
                _("one cell too many: {cell}", cell=quoted(cells[most].text)),
                _("a row such as '{example}'", example=_EXAMPLES[word]),
                _("empty the cell, or put text that holds the separator in double quotes."),
            )
        return cells[most - 1]

    def _value(self, word: str, cells: list[Scalar]) -> Node:
        values = cells[2:]
        if word in ("joint", "load", "settlement"):
            return Sequence(tuple(values), cells[1].place)
        if word in _ALONE and not values:
            return Scalar("", cells[1].place)
        if word == "member" and len(values) == 2:
            keys = (Scalar("area", values[0].place), Scalar("modulus", values[1].place))
            return Mapping(tuple(zip(keys, values, strict=True)), values[0].place)
        return self._only(word, cells, 3)

    def tree(self) -> Mapping:
        top = list(self.singles)
        for block in BLOCKS.values():
            if block in self.blocks:
                top.append((Scalar(block, self.places[block]), self._block(block)))
        working = [
            (Scalar(name, self.places[name]), self._block(name)) for name in WORKING.values() if name in self.blocks
        ]
        if working:
            place = working[0][0].place
            top.append((Scalar("working", place), Mapping(tuple(working), place)))
        return mapping(top, (1, 1), self.findings)

    def _block(self, name: str) -> Mapping:
        return mapping(self.blocks[name], self.places[name], self.findings)


def _cells(line: str, number: int, between: str, findings: Findings) -> list[Scalar]:
    """The cells of a line with their columns, empty ones at the end left out."""
    try:
        texts = next(csv.reader([line], delimiter=between, strict=True))
    except csv.Error:
        findings.add(
            (number, 1),
            _("a quote that is not closed"),
            _("both quotes on one line"),
            _("close it or take it out."),
        )
        return []
    cells = [
        Scalar(text.strip(), (number, column)) for text, column in zip(texts, _columns(line, between), strict=True)
    ]
    while cells and not cells[-1].text:
        cells.pop()
    return cells


def _columns(line: str, between: str) -> list[int]:
    """Where each cell begins, counted from 1; separators within quotes do not count."""
    columns, inside = [1], False
    for index, character in enumerate(line):
        if character == '"':
            inside = not inside
        elif character == between and not inside:
            columns.append(index + 2)
    return columns
