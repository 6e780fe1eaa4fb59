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


def table_for_people(rows: Iterable[Sequence[object]]) -> bytes:
    """Rows as CSV (RFC 4180) with a byte-order mark, so that a spreadsheet reads it as UTF-8."""
    text = io.StringIO()
    csv.writer(text).writerows([safe_cell(value) for value in row] for row in rows)
    return text.getvalue().encode("utf-8-sig")
