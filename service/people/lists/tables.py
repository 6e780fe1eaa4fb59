"""Bytes of a CSV file, or text pasted from a spreadsheet, as rows of cells."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from io import StringIO

from rubric.language import _
from rubric.problems import quoted

MOST_BYTES = 2_000_000
MOST_ROWS = 5_000
MOST_COLUMNS = 60
LONGEST_CELL = 400
DELIMITERS = ";\t|,"
"""Commas come last, because names hold them too."""


class ListRefused(Exception):
    """A list that cannot be read; the message says why and how to mend it."""


@dataclass(frozen=True)
class Row:
    """One row: the line of the file it begins in, from 1, and its cells, each without spaces around it."""

    line: int
    cells: tuple[str, ...]


def read_table(data: bytes | str) -> tuple[Row, ...]:
    """The rows that hold anything.

    Commas, semicolons, tabs and bars between cells; UTF-8, UTF-16 with its mark, or Windows Western.

    Raises
    ------
    ListRefused
        The list is too long, empty, or no text.
    """
    if len(data) > MOST_BYTES:
        raise ListRefused(_("The list is larger than {most} MB. Bring it in in parts.", most=MOST_BYTES // 1_000_000))
    text = data if isinstance(data, str) else _decoded(data)
    if "\0" in text:
        raise ListRefused(_("This is no list in text. Save it from your spreadsheet as CSV."))
    reader = csv.reader(StringIO(text.lstrip("\ufeff")), delimiter=delimiter_of(text))
    rows, line = [], 1
    try:
        for cells in reader:
            tidy = tuple(" ".join(cell.split()) for cell in cells)
            if any(tidy):
                rows.append(_checked(Row(line, tidy)))
            line = reader.line_num + 1
            if len(rows) > MOST_ROWS:
                raise ListRefused(_("The list has more than {most} rows. Bring it in in parts.", most=MOST_ROWS))
    except csv.Error:
        said = _("Line {line} cannot be read as CSV. Look for a quotation mark without its twin.", line=line)
        raise ListRefused(said) from None
    if not rows:
        raise ListRefused(_("There is nobody in the list. Write one pupil a line."))
    return tuple(rows)


def as_text(rows: Iterable[Sequence[str]]) -> str:
    """Rows as text that ``read_table`` gives back."""
    text = StringIO()
    csv.writer(text, delimiter=DELIMITERS[0], lineterminator="\n").writerows(rows)
    return text.getvalue()


def delimiter_of(text: str) -> str:
    """What stands between cells: whatever parts the most lines into the same number of cells, else a comma."""
    lines = [line for line in text.splitlines()[:50] if line.strip()]

    def even(delimiter: str) -> tuple[int, int]:
        counts = Counter(len(row) for row in csv.reader(lines, delimiter=delimiter) if len(row) > 1)
        cells, times = max(counts.items(), key=lambda item: (item[1], item[0]), default=(0, 0))
        return times, cells

    try:
        best = max(DELIMITERS, key=even)
        return best if even(best)[0] else ","
    except csv.Error:
        return ","


def _checked(row: Row) -> Row:
    if len(row.cells) > MOST_COLUMNS:
        said = _("Line {line} has {count} cells. A list has at most {most}.")
        raise ListRefused(said.format(line=row.line, count=len(row.cells), most=MOST_COLUMNS))
    long = next((cell for cell in row.cells if len(cell) > LONGEST_CELL), None)
    if long is not None:
        start = quoted(long[:20])
        said = _("Line {line} has a cell of {count} letters, {start} and so on. Shorten it.")
        raise ListRefused(said.format(line=row.line, count=len(long), start=start))
    return row


def _decoded(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _as(data, "utf-16")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return _as(data, "cp1252")


def _as(data: bytes, encoding: str) -> str:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError:
        raise ListRefused(_("This is no list in text. Save it from your spreadsheet as CSV (UTF-8).")) from None
