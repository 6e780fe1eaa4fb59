"""Marks as the result files of OneRoster CSV 1.2: lineItems.csv and results.csv with a manifest, in a zip.

Pure.  A result names its student by the school's own number, so students without one are left out.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from service.classes.overview import Row

LINE_ITEMS = (
    "sourcedId,status,dateLastModified,title,description,assignDate,dueDate,classSourcedId,categorySourcedId,"
    "gradingPeriodSourcedId,academicSessionSourcedId,schoolSourcedId,resultValueMin,resultValueMax"
).split(",")
RESULTS = (
    "sourcedId,status,dateLastModified,lineItemSourcedId,studentSourcedId,scoreStatus,score,scoreDate,comment"
).split(",")

ALL_FILES = (
    "academicSessions,categories,classes,classResources,courses,courseResources,demographics,enrollments,"
    "lineItemLearningObjectiveIds,lineItems,lineItemScoreScales,orgs,resources,resultLearningObjectiveIds,"
    "results,resultScoreScales,roles,scoreScales,userProfiles,userResources,users"
).split(",")
"""What a manifest says of every file: here or absent."""


@dataclass(frozen=True)
class LineItem:
    """The assignment as the other side is told of it; times are UTC."""

    number: int
    title: str
    class_key: str
    """The class's sourcedId there."""
    set_at: datetime
    due: datetime | None
    out_of: float


def archive(item: LineItem, rows: Sequence[Row], stamp: datetime) -> bytes:
    """The zip, its files at the top, UTF-8 without a mark, as programs read it."""
    when = f"{stamp:%Y-%m-%dT%H:%M:%S.000Z}"
    due = f"{item.due or item.set_at:%Y-%m-%d}"
    key = f"kingpost-assignment-{item.number}"
    line = [key, "active", when, item.title, "", f"{item.set_at:%Y-%m-%d}", due, item.class_key, "", "", "", "", "0"]
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("manifest.csv", _csv([("propertyName", "value"), *_manifest()]))
        packed.writestr("lineItems.csv", _csv([LINE_ITEMS, [*line, f"{item.out_of:g}"]]))
        packed.writestr("results.csv", _csv([RESULTS, *(_result(row, key, when) for row in numbered(rows))]))
    return out.getvalue()


def numbered(rows: Iterable[Row]) -> list[Row]:
    """The students whom the other side can be told of."""
    return [row for row in rows if row.student.roster_number]


def status(row: Row) -> str:
    """How far a result is, in the words of the standard."""
    if row.newest is None:
        return "not submitted"
    if row.counts is None:
        return "submitted"
    return "partially graded" if row.counts.waiting_points else "fully graded"


def _result(row: Row, key: str, when: str) -> list[str]:
    counts = row.counts
    dated = counts or row.newest
    score = "" if counts is None or counts.total is None else f"{counts.total:.2f}".rstrip("0").rstrip(".")
    date = f"{dated.handed_in.replace(tzinfo=UTC):%Y-%m-%d}" if dated else when[:10]
    return [
        f"{key}-student-{row.student.id}",
        "active",
        when,
        key,
        row.student.roster_number or "",
        status(row),
        score,
        date,
        "late" if row.late else "",
    ]


def _manifest() -> list[tuple[str, str]]:
    here = {"lineItems", "results"}
    files = [(f"file.{name}", "bulk" if name in here else "absent") for name in ALL_FILES]
    return [
        ("manifest.version", "1.0"),
        ("oneroster.version", "1.2"),
        *files,
        ("source.systemName", "Kingpost"),
        ("source.systemCode", "kingpost"),
    ]


def _csv(rows: Iterable[Sequence[str]]) -> str:
    text = io.StringIO()
    csv.writer(text).writerows(rows)
    return text.getvalue()
