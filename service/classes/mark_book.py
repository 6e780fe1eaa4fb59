"""Marks as a table for a spreadsheet: RFC 4180, UTF-8 with a byte-order mark."""

from __future__ import annotations

from collections.abc import Sequence

from rubric.language import _, later
from rubric.tables import table_for_people
from service.classes.overview import Row, state_said
from service.contest.board import places
from service.records.queries import BoardLine
from service.saying import here

HEADINGS = (
    later("Student"),
    later("Attempts"),
    later("Newest attempt"),
    later("Attempt that counts"),
    later("Points"),
    later("Out of"),
    later("Points waiting for the teacher"),
    later("Handed in"),
    later("Late"),
    later("Released"),
    later("Best efficiency"),
    later("Rank in class"),
)


def as_csv(rows: Sequence[Row], board: Sequence[BoardLine], zone: str, *, semicolons: bool = False) -> bytes:
    """One line for each student; times on the school's clock.

    Parameters
    ----------
    semicolons
        For spreadsheets that write a comma in numbers: semicolons between cells.
    """
    ranks = {place.student_id: place.rank for place in places(board)}
    return table_for_people(
        [[_(name) for name in HEADINGS], *(_cells(row, ranks, zone) for row in rows)], semicolons=semicolons
    )


def _cells(row: Row, ranks: dict[int, int], zone: str) -> list[str | float | int | None]:
    counts = row.counts
    dated = counts or row.newest
    return [
        row.student.name,
        row.attempts,
        state_said(row.newest) if row.newest else _("nothing handed in"),
        counts.number if counts else None,
        counts.total if counts else None,
        counts.out_of if counts else None,
        counts.waiting_points if counts else None,
        here(dated.handed_in, zone).strftime("%Y-%m-%d %H:%M") if dated else "",
        _("late") if row.late else "",
        (_("no") if counts.held else _("yes")) if counts else "",
        None if row.best_efficiency is None else round(row.best_efficiency, 1),
        ranks.get(row.student.id),
    ]
