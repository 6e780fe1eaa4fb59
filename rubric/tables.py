"""CSV for people: opened in a spreadsheet, where a cell must never turn into a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def safe_cell(value: object) -> object:
    """Text that a spreadsheet would take for a formula, with an apostrophe before it.

    OWASP ASVS 1.2.10.  Numbers stay numbers.
    """
    return f"'{value}" if isinstance(value, str) and value.startswith(_FORMULA) else value


def _cell(value: object, comma: bool) -> object:
    return str(value).replace(".", ",") if comma and isinstance(value, float) else safe_cell(value)


def table_for_people(rows: Iterable[Sequence[object]], *, semicolons: bool = False) -> bytes:
    """Rows as CSV (RFC 4180) with a byte-order mark, so that a spreadsheet reads it as UTF-8.

    Parameters
    ----------
    semicolons
        Semicolons between cells and a comma in numbers, as spreadsheets of many languages expect.
    """
    text = io.StringIO()
    write = csv.writer(text, delimiter=";" if semicolons else ",")
    write.writerows([_cell(value, semicolons) for value in row] for row in rows)
    return text.getvalue().encode("utf-8-sig")
