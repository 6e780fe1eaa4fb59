"""All that is held about a pupil, as one zip: the rows as JSON, and files, sheets and plans as they are.

The rows are those that hang on the pupil (:mod:`service.records.below`), so no table is forgotten.
The pupil's own zip leaves out what is not theirs to see yet, and says so.
"""

from __future__ import annotations

import json
import re
import zipfile
from collections.abc import Iterator, Mapping
from datetime import datetime
from io import BytesIO
from pathlib import PurePosixPath
from typing import Any

from sqlalchemy import Table, select
from sqlalchemy.orm import Session

from rubric.language import _, later
from service.records.below import PEOPLE, below, with_keys
from service.records.models import Person

SECRET = {"people": {"handle", "secret_hash", "session_key"}, "browsers": {"token_hash"}}
"""Columns that open an account: for nobody's eyes."""

NAMES_OTHERS = ("contest_prints", "class_reports")
"""Tables whose rows tell of other pupils too."""

FOR_PUPIL = ("people", "browsers", "extensions", "extra_attempts", "submissions", "sheets", "plans", "changes")
"""Tables of the pupil's own zip."""

NOT_FOR_PUPIL = {
    "extensions": {"why", "by_id"},
    "extra_attempts": {"why", "by_id"},
    "changes": {"person_id"},
    "submissions": {"fingerprint", "by_id"},
}

WHILE_HELD = ("id", "assignment_id", "number", "file_name", "file", "file_sha256", "handed_in", "state", "held")
"""What a pupil sees of an attempt whose mark is not given yet."""

ABOUT_STAFF = (later("Everything that Kingpost holds about this pupil."),)
ABOUT_PUPIL = (
    later("This is what Kingpost holds about you."),
    later(
        "Left out are: the marks of attempts whose marks are not given yet, what teachers noted for each other, and "
        "what opens your account."
    ),
    later("Your school can give you those too, except what opens your account. Ask your teacher."),
)
ABOUT_BOTH = (
    "",
    later("about.json   all entries, table by table. The page 'What is kept' of Kingpost says what each is for."),
    later("attempt-N/   the files that were handed in, with sheets and building plans. N is the 'id' of the attempt."),
)

FILES = {("submissions", "file"): "file", ("sheets", "pdf"): "sheet.pdf", ("plans", "pdf"): "plan.pdf"}

Rows = dict[str, list[dict[str, Any]]]


def archive(session: Session, student: Person, *, for_staff: bool) -> bytes:
    """The zip."""
    rows = rows_about(session, student) if for_staff else _for_pupil(rows_about(session, student))
    out = BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        lines = (*(ABOUT_STAFF if for_staff else ABOUT_PUPIL), *ABOUT_BOTH)
        packed.writestr("READ-ME.txt", "".join(f"{_(line)}\r\n" for line in lines))
        for name, data in _files(rows):
            packed.writestr(name, data)
        packed.writestr("about.json", json.dumps(_plain(rows), ensure_ascii=False, indent=1, default=_said))
    return out.getvalue()


def rows_about(session: Session, student: Person) -> Rows:
    """All rows that hang on the pupil, by table, without what opens the account."""
    return {
        table.name: [
            {name: value for name, value in row.items() if name not in SECRET.get(table.name, ())}
            for condition in with_keys(table, keys)
            for row in session.execute(_all(table).where(condition).order_by(*table.primary_key)).mappings()
        ]
        for table, keys in below(session, PEOPLE, [student.id]).items()
        if table.name not in NAMES_OTHERS
    }


def _all(table: Table) -> Any:
    return select(*table.columns)


def _for_pupil(rows: Rows) -> Rows:
    held = {row["id"] for row in rows.get("submissions", ()) if row["held"]}

    def seen(table: str, row: Mapping[str, Any]) -> dict[str, Any]:
        waits = table == "submissions" and row["id"] in held
        names = WHILE_HELD if waits else [name for name in row if name not in NOT_FOR_PUPIL.get(table, ())]
        return {name: row[name] for name in names}

    return {
        table: [seen(table, row) for row in rows[table] if _may_see(table, row, held)]
        for table in FOR_PUPIL
        if table in rows
    }


def _may_see(table: str, row: Mapping[str, Any], held: set[int]) -> bool:
    if table == "sheets":
        return row["submission_id"] not in held
    return table != "changes" or (row["told"] and row["submission_id"] not in held)


def _files(rows: Rows) -> Iterator[tuple[str, bytes]]:
    for (table, column), name in FILES.items():
        for row in rows.get(table, ()):
            if row[column]:
                ending = _ending(row["file_name"]) if table == "submissions" else ""
                yield f"attempt-{row.get('submission_id', row.get('id'))}/{name}{ending}", row[column]


def _ending(file_name: str) -> str:
    """The ending of a name that somebody else gave, where it is a plain one."""
    ending = PurePosixPath(file_name).suffix.lower()
    return ending if re.fullmatch(r"\.[a-z0-9]{1,8}", ending) else ".txt"


def _plain(rows: Rows) -> Rows:
    return {
        table: [{name: value for name, value in row.items() if (table, name) not in FILES} for row in found]
        for table, found in rows.items()
    }


def _said(value: Any) -> str:
    if isinstance(value, datetime):
        return f"{value.isoformat(timespec='seconds')}Z"
    assert isinstance(value, bytes)
    return value.decode("utf-8", "replace")  # the sample file of a trial
