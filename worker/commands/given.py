"""Briefs and rubrics named at the command line: a file, or the name of a ready one."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from rubric import library
from rubric.brief import Brief, read_brief
from rubric.located import MOST_BYTES
from rubric.problems import Refused, quoted
from rubric.rubrics import Rubric, read_rubric
from rubric.spelling import did_you_mean

T = TypeVar("T")


class GivenWrong(Exception):
    """A brief or a rubric cannot be used; each argument is a line that says why."""


def brief(given: str) -> Brief:
    """The brief; raises GivenWrong with all its problems, or where there is no such file."""
    return _read("brief", given, library.brief_names(), library.brief_text, read_brief)


def rubric(given: str) -> Rubric:
    """The rubric; raises GivenWrong with all its problems, or where there is no such file."""
    return _read("rubric", given, library.rubric_names(), library.rubric_text, read_rubric)


def _read(what: str, given: str, ready: list[str], text_of: Callable[[str], bytes], read: Callable[[bytes], T]) -> T:
    try:
        return read(text_of(given) if given in ready else read_bytes(Path(given)))
    except Refused as refused:
        raise GivenWrong(*(f"{given}: {problem}" for problem in refused.problems)) from None
    except OSError as error:
        raise GivenWrong(
            f"{quoted(given)} is no {what} that can be read ({error.strerror}). Name a file, or one of the ready "
            f"ones: {did_you_mean(given, ready)}"
        ) from None


def read_bytes(path: Path) -> bytes:
    """The file, as far as it is worth reading: what is too large is refused by its reader."""
    with path.open("rb") as file:
        return file.read(MOST_BYTES + 1)
