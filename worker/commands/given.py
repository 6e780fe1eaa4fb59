"""Briefs and rubrics named at the command line: a file, or the name of a ready one."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from rubric import library
from rubric.brief import Brief, read_brief
from rubric.problems import Problem, Refused, quoted
from rubric.rubrics import Rubric, read_rubric
from rubric.spelling import did_you_mean

T = TypeVar("T")


def brief(given: str) -> Brief:
    """The brief; raises Refused with all its problems, or where there is no such file."""
    return _read(given, library.brief_names(), library.brief_text, read_brief)


def rubric(given: str) -> Rubric:
    """The rubric; raises Refused with all its problems, or where there is no such file."""
    return _read(given, library.rubric_names(), library.rubric_text, read_rubric)


def _read(given: str, ready: list[str], text_of: Callable[[str], bytes], read: Callable[[bytes], T]) -> T:
    if given in ready:
        return read(text_of(given))
    path = Path(given)
    if not path.is_file():
        raise Refused(
            Problem(
                1,
                1,
                f"no file {quoted(given)}",
                f"a file, or a ready one: {', '.join(ready)}",
                did_you_mean(given, ready),
            )
        )
    return read(path.read_bytes())
