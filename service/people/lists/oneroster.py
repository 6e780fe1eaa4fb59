"""Class lists from the zip of a OneRoster CSV 1.2 export: classes.csv, users.csv and enrollments.csv.

Read by the names of the headings.  This is an import of those three files, no claim of conformance.
"""

from __future__ import annotations

import csv
import zipfile
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from io import BytesIO, StringIO

from rubric.language import _
from rubric.wording import listed
from service.people.lists.pupils import Pupil
from service.people.lists.tables import ListRefused

LONGEST_ID = 255
"""Letters of an id of a class that is kept."""

MOST_BYTES = 20_000_000
"""Of one file of the zip, unpacked."""

NEEDED: Mapping[str, tuple[str, ...]] = {
    "classes.csv": ("sourcedId", "title"),
    "users.csv": ("sourcedId", "givenName", "familyName"),
    "enrollments.csv": ("classSourcedId", "userSourcedId", "role"),
}

Line = Mapping[str, str]


@dataclass(frozen=True)
class Group:
    """A class of the export and its pupils.  ``key`` is the export's own name for it."""

    key: str
    title: str
    code: str
    pupils: tuple[Pupil, ...]


def read_zip(data: bytes) -> tuple[Group, ...]:
    """The classes that have pupils, by title; what is marked as deleted is left out.

    Nothing is unpacked to disk, and a file that is larger unpacked than it should be is refused.

    Raises
    ------
    ListRefused
        This is no zip, a file or a column is missing, or a file is too large.
    """
    tables = _tables(data)
    users = {row["sourcedId"]: row for row in tables["users.csv"] if _kept(row)}
    members: dict[str, dict[str, Pupil]] = {}
    for row in tables["enrollments.csv"]:
        user = users.get(row["userSourcedId"])
        if user is not None and _kept(row) and row["role"].casefold() == "student":
            members.setdefault(row["classSourcedId"], {})[user["sourcedId"]] = _pupil(user)
    groups = [
        Group(row["sourcedId"], row["title"], row.get("classCode", ""), tuple(members[row["sourcedId"]].values()))
        for row in tables["classes.csv"]
        if _kept(row) and row["sourcedId"] in members
    ]
    return tuple(sorted(groups, key=lambda group: (group.title, group.key)))


def class_id(text: str) -> str:
    """The id of a class as it is kept; nothing where it is none that could be given back letter for letter."""
    plain = " ".join(text.split())
    return plain if len(plain) <= LONGEST_ID and plain.isprintable() else ""


def same_class(groups: Sequence[Group], known: str | None) -> Group | None:
    """The class of the export that was brought in before, whatever it is called now."""
    return next((group for group in groups if known and group.key == known), None)


def _pupil(user: Line) -> Pupil:
    given = user.get("preferredGivenName") or user["givenName"]
    family = user.get("preferredFamilyName") or user["familyName"]
    return Pupil(" ".join(f"{given} {family}".split()), number=user["sourcedId"])


def _kept(row: Line) -> bool:
    return row.get("status", "").casefold() != "tobedeleted"


def _tables(data: bytes) -> dict[str, Sequence[Line]]:
    try:
        with zipfile.ZipFile(BytesIO(data)) as packed:
            missing = [name for name in NEEDED if name not in packed.namelist()]
            if missing:
                raise ListRefused(
                    _("The zip has no {files} at its top. Export the class lists again.", files=listed(missing))
                )
            return {name: _rows(packed, name) for name in NEEDED}
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, RuntimeError, OSError, EOFError, ValueError):
        raise ListRefused(_("This zip cannot be read. Export the class lists again.")) from None


def _rows(packed: zipfile.ZipFile, name: str) -> Sequence[Line]:
    with packed.open(name) as file:
        data = file.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise ListRefused(
            _("{file} is larger than {most} MB. Export fewer classes.", file=name, most=MOST_BYTES // 1_000_000)
        )
    try:
        reader = csv.DictReader(StringIO(data.decode("utf-8-sig")), restval="")
        lines = [{key: " ".join((row[key] or "").split()) for key in row if isinstance(key, str)} for row in reader]
        headings = reader.fieldnames or ()
    except (UnicodeDecodeError, csv.Error):
        raise ListRefused(_("{file} is no CSV in UTF-8. Export the class lists again.", file=name)) from None
    lacking = [heading for heading in NEEDED[name] if heading not in headings]
    if lacking:
        said = _("{file} has no column {columns}. Export the class lists again.", file=name, columns=listed(lacking))
        raise ListRefused(said)
    return lines
