"""What a worker on the same machine may open: everything but the database and the secrets of the service.

A worker reads the files of strangers.  Its environment holds no secret; on one machine it runs as the same user as
the service, so that alone would not keep it from the data folder.  Linux's Landlock does, for the process and all
that it starts, without any right of its own.  It also keeps it from the memory and the environment of the others.
"""

from __future__ import annotations

import ctypes
import os
import stat
import struct
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

_CREATE_RULESET, _ADD_RULE, _RESTRICT_SELF = 444, 445, 446  # Linux, the same on every machine
_ASK_VERSION, _PATH_BENEATH, _PR_SET_NO_NEW_PRIVS = 1, 1, 38
_WRITE_FILE, _READ_FILE, _READ_DIR = 1 << 1, 1 << 2, 1 << 3  # <linux/landlock.h>


def is_possible() -> bool:
    """Whether this kernel can keep a process from files."""
    if sys.platform != "linux":
        return False
    return int(ctypes.CDLL(None).syscall(_CREATE_RULESET, None, ctypes.c_size_t(0), ctypes.c_uint(_ASK_VERSION))) >= 1


def open_to(hidden: Sequence[Path], kept: Sequence[Path] = ()) -> list[Path]:
    """The fewest paths that together are all of the disk but what is hidden; ``kept`` are exceptions within it.

    Of a folder on the way to something hidden only what stands there now is open.
    """
    closed = [path.resolve() for path in hidden]
    return [*_around(Path("/"), closed), *(path for path in kept if path.exists())]


def confinement(paths: Sequence[Path]) -> Callable[[], None]:
    """What a new process calls before anything else; from then on only files at or below these paths open."""
    libc = ctypes.CDLL(None, use_errno=True)

    def confine() -> None:
        rights = struct.pack("Q", _WRITE_FILE | _READ_FILE | _READ_DIR)
        rules = _checked(libc.syscall(_CREATE_RULESET, rights, ctypes.c_size_t(len(rights)), ctypes.c_uint(0)))
        for path in paths:
            _allow(libc, rules, path)
        _checked(libc.prctl(_PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0))
        _checked(libc.syscall(_RESTRICT_SELF, rules, ctypes.c_uint(0)))
        os.close(rules)

    return confine


def _around(folder: Path, closed: Sequence[Path]) -> Iterator[Path]:
    for entry in sorted(folder.iterdir()):
        # What a link leads to is open, or not, by its own place.
        if entry.is_symlink() or entry in closed:
            continue
        if any(path.is_relative_to(entry) for path in closed):
            yield from _around(entry, closed)
        else:
            yield entry


def _allow(libc: ctypes.CDLL, rules: int, path: Path) -> None:
    try:
        place = os.open(path, os.O_PATH | os.O_CLOEXEC)
    except OSError:  # gone since, or not for us in the first place
        return
    try:
        is_folder = stat.S_ISDIR(os.fstat(place).st_mode)
        rights = _WRITE_FILE | _READ_FILE | (_READ_DIR if is_folder else 0)
        _checked(libc.syscall(_ADD_RULE, rules, _PATH_BENEATH, struct.pack("=Qi", rights, place), ctypes.c_uint(0)))
    finally:
        os.close(place)


def _checked(result: int) -> int:
    if result < 0:
        raise OSError(ctypes.get_errno(), "a process could not be confined")
    return result
