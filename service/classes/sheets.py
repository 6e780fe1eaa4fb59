"""All sheets of an assignment in one archive, made while it is sent: one sheet in memory at a time."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator, Sequence

from service.records.engine import Records
from service.records.models import Sheet
from service.saying import file_word


def archive(records: Records, sheets: Sequence[tuple[int, str, int]]) -> Iterator[bytes]:
    """The bytes of a zip with one PDF for each (submission, student's name, attempt number)."""
    out = _Pipe()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as archive_file:
        for submission_id, name, number in sheets:
            with records.read() as session:
                sheet = session.get(Sheet, submission_id)
            if sheet is not None:
                archive_file.writestr(f"{_entry(submission_id, name, number)}.pdf", sheet.pdf)
                yield out.taken()
    yield out.taken()


def _entry(submission_id: int, name: str, number: int) -> str:
    """A name that sorts by student, is safe on any disk, and is different for each sheet."""
    return f"{file_word(name, 'student')}-attempt-{number}-no-{submission_id}"


class _Pipe(io.RawIOBase):
    """A file that cannot go back: what was written is taken out and sent."""

    def __init__(self) -> None:
        super().__init__()
        self._kept = bytearray()

    def writable(self) -> bool:
        return True

    def write(self, data: bytes | bytearray | memoryview) -> int:  # type: ignore[override]
        self._kept += data
        return len(data)

    def taken(self) -> bytes:
        """All that was written since the last time."""
        data = bytes(self._kept)
        self._kept.clear()
        return data
