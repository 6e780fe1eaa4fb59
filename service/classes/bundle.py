"""Many files in one zip, each named after its student.  Pure: bytes and names in, files and reasons out.

Nothing is ever unpacked to disk; how much is read is bounded before it is read.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
import zipfile
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from io import BytesIO
from pathlib import PurePosixPath

from rubric.language import _
from service.classes.handing_in import MOST_BYTES, NotTaken, check_size, plain_file_name

MOST_FILES = 400
MOST_IN_ALL = 4_000_000
"""Bytes of all files that are taken, unpacked."""

LEAST, MOST_MEANT, ALIKE = 3, 3, 0.75
"""Letters of a word that may tell who is meant, how many may be, and how alike a whole name must be."""

_NOBODYS = ("__MACOSX", ".DS_Store", "Thumbs.db", "desktop.ini")
_ALIKE = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ı": "i", "æ": "ae", "œ": "oe", "þ": "th"})
_UTF8 = 0x800


class BundleRefused(Exception):
    """The zip cannot be used at all; the message says why and how to mend it."""


@dataclass(frozen=True)
class Pupil:
    """Somebody of the class."""

    id: int
    name: str
    number: str = ""
    """The school's own, which may name a file too."""


@dataclass(frozen=True)
class Given:
    """A file whose student is known."""

    pupil: Pupil
    file_name: str
    data: bytes

    @property
    def sha256(self) -> str:
        """Of its bytes."""
        return hashlib.sha256(self.data).hexdigest()


@dataclass(frozen=True)
class LeftOut:
    """A file that is not taken, and why."""

    file_name: str
    why: str


@dataclass(frozen=True)
class Bundle:
    """What is in the zip, in the order of the class, and what is left out."""

    given: tuple[Given, ...]
    left: tuple[LeftOut, ...]

    @property
    def digest(self) -> str:
        """The same for the same files of the same students."""
        said = "\n".join(f"{one.pupil.id} {one.sha256}" for one in self.given)
        return hashlib.sha256(said.encode()).hexdigest()


def read_bundle(data: bytes, pupils: Sequence[Pupil]) -> Bundle:
    """The files of a zip, each with its student.

    Raises
    ------
    BundleRefused
        No zip, too many files in it, or too much in all.
    """
    found, left = list[Given](), list[LeftOut]()
    for path, content in _unpacked(data):
        owners = whose(path, pupils)
        why = _why_not(path, content, owners, pupils)
        if why:
            left.append(LeftOut(plain_file_name(path), why))
        else:
            found.append(Given(owners[0], plain_file_name(path), content))
    return _one_each(found, left, pupils)


def packed_again(bundle: Bundle) -> bytes:
    """The files that are taken, as a zip that :func:`read_bundle` reads alike."""
    out = BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for one in bundle.given:
            packed.writestr(f"{one.pupil.id}/{one.file_name}", one.data)
    return out.getvalue()


def read_again(data: bytes, pupils: Sequence[Pupil]) -> Bundle:
    """What :func:`packed_again` packed: the folder is the student's number in the tables.

    Raises
    ------
    BundleRefused
        It is not what was packed.
    """
    known = {str(one.id): one for one in pupils}
    found = []
    for path, content in _unpacked(data):
        number, __, name = path.partition("/")
        if number not in known or _why_not(name, content, [known[number]], pupils):
            raise BundleRefused(_("What was sent is not what was shown. Choose the zip again."))
        found.append(Given(known[number], plain_file_name(name), content))
    return _one_each(found, [], pupils)


def whose(path: str, pupils: Sequence[Pupil]) -> list[Pupil]:
    """The students whom a file may belong to, by its name or else by that of its folder.

    A name counts whatever its case, accents, order and what stands between its words; more words may follow.
    """
    parts = PurePosixPath(path.replace("\\", "/"))
    for text in (parts.stem, parts.parent.name):
        found = _named(text, pupils) if text else []
        if found:
            return found
    return []


def _named(text: str, pupils: Sequence[Pupil]) -> list[Pupil]:
    words = sorted(_words(text))
    exact = [one for one in pupils if sorted(_words(one.name)) == words or (one.number and one.number == text.strip())]
    if exact:
        return exact
    within = [one for one in pupils if _words(one.name) and not set(_words(one.name)) - set(words)]
    longest = max((len(_words(one.name)) for one in within), default=0)
    return [one for one in within if len(_words(one.name)) == longest]


def _words(text: str) -> list[str]:
    bare = unicodedata.normalize("NFKD", text.casefold().translate(_ALIKE))
    plain = "".join(c for c in bare if not unicodedata.combining(c))
    return [word for word in re.split(r"[\W_]+", plain.replace("'", "").replace("\N{RIGHT SINGLE QUOTATION MARK}", ""))
            if word]  # fmt: skip


def _unpacked(data: bytes) -> list[tuple[str, bytes]]:
    """Path and bytes of each file, the bytes cut off where they are too many for a truss file."""
    found, size = [], 0
    try:
        with zipfile.ZipFile(BytesIO(data)) as packed:
            entries = [one for one in packed.infolist() if not one.is_dir()]
            if len(entries) > MOST_FILES:
                most, there = MOST_FILES, len(entries)
                raise BundleRefused(
                    _("The zip holds {count} files; {most} are the most. Send it in parts.", count=there, most=most)
                )
            for entry in entries:
                with packed.open(entry) as file:
                    content = file.read(MOST_BYTES + 1)
                size += len(content)
                if size > MOST_IN_ALL:
                    most = MOST_IN_ALL // 1_000_000
                    raise BundleRefused(_("The files have over {most} MB in all. Send the zip in parts.", most=most))
                found.append((_path(entry), content))
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, RuntimeError, OSError, EOFError, ValueError):
        raise BundleRefused(_("This zip cannot be read. Pack the truss files anew, without a password.")) from None
    return found


def _why_not(path: str, content: bytes, owners: Sequence[Pupil], pupils: Sequence[Pupil]) -> str:
    """Why a file is left out; nothing where it is taken."""
    if any(part in _NOBODYS for part in path.split("/")) or plain_file_name(path).startswith("._"):
        return _("a note of the computer that packed the zip, no truss file")
    if not owners:
        return _nobody(path, pupils)
    if len(owners) > 1:
        return _("it may be that of {students}", students=_(" or ").join(one.name for one in owners))
    try:
        check_size(content)
    except NotTaken:
        return _("over 64 KB, which no truss file has") if content.strip() else _("there is nothing in it")
    return ""


def _nobody(path: str, pupils: Sequence[Pupil]) -> str:
    """What is said of a file that names nobody, and who may have been meant."""
    stem = _words(PurePosixPath(path).stem)
    meant = [one.name for one in pupils if {word for word in stem if len(word) >= LEAST} & set(_words(one.name))]
    if not meant:
        spelt = {" ".join(_words(one.name)): one.name for one in pupils}
        meant = [spelt[text] for text in get_close_matches(" ".join(stem), spelt, MOST_MEANT, ALIKE)]
    if not meant or len(meant) > MOST_MEANT:
        return _("no student of the class is called so")
    return _("no student of the class is called so; perhaps {students}", students=_(" or ").join(meant))


def _path(entry: zipfile.ZipInfo) -> str:
    """The name of an entry; some computers write UTF-8 without saying so."""
    if entry.flag_bits & _UTF8:
        return entry.filename
    try:
        return entry.filename.encode("cp437").decode("utf-8")
    except UnicodeError:
        return entry.filename


def _one_each(found: Sequence[Given], left: Sequence[LeftOut], pupils: Sequence[Pupil]) -> Bundle:
    count: dict[int, int] = {}
    for one in found:
        count[one.pupil.id] = count.get(one.pupil.id, 0) + 1
    double = [LeftOut(one.file_name, _("{student} has more than one file in the zip", student=one.pupil.name))
              for one in found if count[one.pupil.id] > 1]  # fmt: skip
    order = {one.id: place for place, one in enumerate(pupils)}
    single = sorted((one for one in found if count[one.pupil.id] == 1), key=lambda one: order[one.pupil.id])
    return Bundle(tuple(single), (*left, *double))
