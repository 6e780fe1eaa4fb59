"""Problems: what is wrong with somebody's file, said so that the person can mend it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from rubric.language import _

MOST_PROBLEMS = 40
"""A file is not quoted back for ever: beyond this many problems the rest are only counted."""

LONGEST_QUOTE = 40
"""Characters of somebody's own text that a problem quotes."""


@dataclass(frozen=True, order=True)
class Problem:
    """One thing to mend: where it stands, what was found, what was expected, what to do."""

    line: int
    column: int
    found: str
    expected: str
    mend: str

    def __str__(self) -> str:
        return _(
            "line {line}, column {column}: found {found}; expected {expected}. To mend it: {mend}",
            line=self.line,
            column=self.column,
            found=self.found,
            expected=self.expected,
            mend=self.mend,
        )


class Refused(Exception):
    """A file cannot be used; ``problems`` holds every reason, in reading order."""

    @property
    def problems(self) -> tuple[Problem, ...]:
        return tuple(arg for arg in self.args if isinstance(arg, Problem))

    def __str__(self) -> str:
        return "\n".join(str(problem) for problem in self.problems)


@dataclass
class Findings:
    """Gathers the problems of one file while it is read, so that all are told at once."""

    problems: list[Problem] = field(default_factory=list)

    def add(self, place: tuple[int, int], found: str, expected: str, mend: str) -> None:
        """Note one problem at ``place``, a (line, column) pair counted from 1."""
        self.problems.append(Problem(*place, found, expected, mend))

    def take(self, problems: Iterable[Problem]) -> None:
        """Note problems that another reader found."""
        self.problems.extend(problems)

    def settle(self) -> None:
        """Raise :class:`Refused` with everything found so far, if anything was."""
        if not self.problems:
            return
        ordered = sorted(set(self.problems))
        told = ordered[:MOST_PROBLEMS]
        if len(ordered) > MOST_PROBLEMS:
            rest = ordered[MOST_PROBLEMS]
            told.append(
                Problem(
                    rest.line,
                    rest.column,
                    _("{count} more problems from here on", count=len(ordered) - MOST_PROBLEMS),
                    _("a file with fewer problems"),
                    _("mend the ones above first, then check the file again."),
                )
            )
        raise Refused(*told)


def quoted(text: str) -> str:
    """Somebody's own text, cut to a length that a message can bear, with no control characters.

    Direction marks and other invisible characters are dropped, so that a quote cannot
    reorder the sentence around it.
    """
    plain = "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in text)
    if len(plain) > LONGEST_QUOTE:
        plain = plain[: LONGEST_QUOTE - 1] + "\N{HORIZONTAL ELLIPSIS}"
    return f"'{plain}'"
