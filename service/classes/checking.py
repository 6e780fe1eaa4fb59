"""What a teacher wrote, checked: problems with their place, or in words what it asks of a student.

Pure.  Only what staff write is read here; a student's truss file never.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from rubric.brief import Brief, read_brief
from rubric.language import _
from rubric.problems import Problem, Refused
from rubric.rubrics import Rubric, read_rubric
from rubric.wording import points

T = TypeVar("T")

LONGEST_LINE = 120
"""Characters of a line that are quoted beside its problem."""


@dataclass(frozen=True)
class Line:
    """One problem, and the line in which it stands."""

    problem: Problem
    quote: str


@dataclass(frozen=True)
class Checked(Generic[T]):
    """One text: what was read, or what is to be mended."""

    text: str
    value: T | None = None
    problems: tuple[Line, ...] = ()


@dataclass(frozen=True)
class Both:
    """A brief and a rubric, and what they say only together."""

    brief: Checked[Brief]
    rubric: Checked[Rubric]

    @property
    def fine(self) -> bool:
        """Whether both can be used."""
        return self.brief.value is not None and self.rubric.value is not None

    @property
    def remarks(self) -> tuple[str, ...]:
        """What is no mistake and may still not be meant."""
        return remarks(self.brief.value, self.rubric.value) if self.brief.value and self.rubric.value else ()


def check(brief: str, rubric: str) -> Both:
    """Both texts, each with all of its problems."""
    return Both(checked(brief, read_brief), checked(rubric, read_rubric))


def remarks(brief: Brief, rubric: Rubric) -> tuple[str, ...]:
    """Where the two do not go together."""
    said = []
    if rubric.lateness and brief.dates.due is None:
        said.append(
            _(
                "The rubric takes points for late work, but the brief has no due date: nothing will be late "
                "unless you set one beside it."
            )
        )
    if rubric.out_of is None:
        full, written = points(rubric.full), f"{rubric.full:g}"
        said.append(
            _(
                "The points add up to {full}. Write 'out of: {written}' to have that checked.",
                full=full,
                written=written,
            )
        )
    return tuple(said)


def checked(text: str, read: Callable[[bytes], T]) -> Checked[T]:
    """One text, with all of its problems."""
    plain = text.replace("\r\n", "\n")
    try:
        return Checked(plain, read(plain.encode()))
    except Refused as refused:
        lines = plain.split("\n")
        return Checked(plain, None, tuple(Line(problem, _quote(lines, problem.line)) for problem in refused.problems))


def _quote(lines: list[str], number: int) -> str:
    line = lines[number - 1].strip() if number <= len(lines) else ""
    return line if len(line) <= LONGEST_LINE else f"{line[: LONGEST_LINE - 1]}\N{HORIZONTAL ELLIPSIS}"
