"""Zips made to do harm: bombs, paths out of the folder, passwords, halves, too many entries."""

from __future__ import annotations

import re
import struct
import time
import tracemalloc
import zipfile
from collections.abc import Callable
from contextlib import suppress
from io import BytesIO
from pathlib import Path

import pytest

import service
from service.classes.bundle import BundleRefused, Pupil, read_bundle
from service.people.lists.oneroster import read_zip
from service.people.lists.tables import ListRefused
from tests.service.people.lists.test_oneroster import FILES

PUPILS = (Pupil(1, "Ada Fern", ""), Pupil(2, "Ben Holt", ""))


def zipped(files: dict[str, bytes | str], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    held = BytesIO()
    with zipfile.ZipFile(held, "w", method) as packed:
        for name, data in files.items():
            packed.writestr(name, data)
    return held.getvalue()


def bomb(name: str, megabytes: int) -> bytes:
    held = BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as packed:
        for other, text in FILES.items():
            if other != name:
                packed.writestr(other, text)
        with packed.open(name, "w") as file:
            for _ in range(megabytes):
                file.write(bytes(1_000_000))
    return held.getvalue()


def bundle(data: bytes) -> object:
    return read_bundle(data, PUPILS)


READERS: dict[str, tuple[Callable[[bytes], object], type[Exception]]] = {
    "service/people/lists/oneroster.py": (read_zip, ListRefused),
    "service/classes/bundle.py": (bundle, BundleRefused),
}
"""Everything that reads a zip of somebody else."""

OURS = {"service/demo/report.py"}
"""Reads what this program has packed itself."""


def test_every_place_that_reads_a_zip_is_tested_here() -> None:
    root, found = Path(service.__file__).parent, set()
    for file in root.rglob("*.py"):
        if re.search(r"ZipFile\((?!out|held)[^\n]*\)", file.read_text()):
            found.add(f"service/{file.relative_to(root)}")
    assert found - OURS == set(READERS)


@pytest.mark.parametrize("reader", READERS)
def test_a_bomb_costs_little_time_and_memory(reader: str) -> None:
    read, refused = READERS[reader]
    data = bomb("users.csv", 300)
    assert len(data) < 1_000_000
    tracemalloc.start()
    begun = time.monotonic()
    try:
        read(data)
    except refused as error:
        assert "MB" in str(error)
    assert time.monotonic() - begun < 5
    assert tracemalloc.get_traced_memory()[1] < 120_000_000
    tracemalloc.stop()


@pytest.mark.parametrize("reader", READERS)
def test_names_that_lead_out_of_a_folder_write_nothing(
    reader: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    read, refused = READERS[reader]
    monkeypatch.chdir(tmp_path)
    names = (
        "../evil.yaml",
        "/evil.yaml",
        "..\\..\\evil.yaml",
        "C:\\evil.yaml",
        "a/../../evil.yaml",
        "ada fern/../../x.yaml",
    )
    with suppress(refused):
        read(zipped(dict(FILES) | dict.fromkeys(names, b"joints: {}")))
    assert list(tmp_path.rglob("*")) == []
    assert not (tmp_path.parent / "evil.yaml").exists()


@pytest.mark.parametrize("reader", READERS)
def test_a_zip_of_very_many_entries_is_answered_soon(reader: str) -> None:
    read, refused = READERS[reader]
    data = zipped({f"{n}": b"" for n in range(60_000)}, zipfile.ZIP_STORED)
    begun = time.monotonic()
    with pytest.raises(refused):
        read(data)
    assert time.monotonic() - begun < 10


def with_password(data: bytes) -> bytes:
    """Every entry says that it is encrypted."""
    for mark, place in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        parts = data.split(mark)
        data = mark.join([parts[0], *(p[: place - 4] + struct.pack("<H", 1) + p[place - 2 :] for p in parts[1:])])
    return data


def of_another_method(data: bytes) -> bytes:
    for mark, place in ((b"PK\x03\x04", 8), (b"PK\x01\x02", 10)):
        parts = data.split(mark)
        data = mark.join([parts[0], *(p[: place - 4] + struct.pack("<H", 99) + p[place - 2 :] for p in parts[1:])])
    return data


def altered(data: bytes) -> bytes:
    """Every file's bytes are other ones than were packed."""
    first, *parts = data.split(b"PK\x03\x04")
    return b"PK\x03\x04".join([first, *(p[:50] + b"\xff" * 10 + p[60:] for p in parts)])


@pytest.mark.parametrize(
    "harm",
    [with_password, of_another_method, altered, lambda d: d[:-40], lambda d: b"PK\x03\x04" + d[:9], lambda d: b"PK"],
)
@pytest.mark.parametrize("reader", READERS)
def test_a_zip_that_cannot_be_read_is_refused_in_words(reader: str, harm: Callable[[bytes], bytes]) -> None:
    read, refused = READERS[reader]
    with pytest.raises(refused, match="zip"):
        read(harm(zipped({name: text * 3 for name, text in FILES.items()})))


@pytest.mark.parametrize("reader", READERS)
def test_a_zip_in_a_zip_is_not_opened(reader: str) -> None:
    read, refused = READERS[reader]
    inner = zipped(dict(FILES) | {"Ada Fern.yaml": b"joints: {}"})
    try:
        found = read(zipped({"Ada Fern.zip": inner}))
    except refused:
        return
    assert b"joints" not in repr(found).encode()
