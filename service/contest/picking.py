"""Which bridges of a long list a page shows: of one division or state, by number or alias, and in parts.  Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from rubric.language import later

T = TypeVar("T")

PART = 50
"""Bridges that a page shows at once."""

WHOLE = "all"
"""In place of the number of a part: everything on one page, to print it."""

STATES = (
    later("not weighed"),
    later("weighed, not tested"),
    later("tested"),
    later("not ranked"),
    later("waits for a second pair of eyes"),
)
"""How far a bridge is; it may be at several of them."""


@dataclass(frozen=True)
class Facts:
    """What a bridge is found by."""

    number: int
    division: str
    words: tuple[str, ...]
    """Its alias, and on pages of the staff the pupil's name."""
    states: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Wanted:
    """What somebody asks for; nothing asked for is everything, in parts."""

    division: str = ""
    state: str = ""
    find: str = ""
    part: str = ""

    @property
    def args(self) -> dict[str, str]:
        """The same for an address, without what is not asked for."""
        return {name: value for name, value in vars(self).items() if value}

    @property
    def narrows(self) -> bool:
        """Whether anything is left out."""
        return bool(self.division or self.state or self.find)

    def fits(self, facts: Facts) -> bool:
        """Whether a bridge is asked for: a number, or a part of the alias in any case."""
        if (self.division and facts.division != self.division) or (self.state and self.state not in facts.states):
            return False
        plain = self.find.lstrip("#")
        if plain.isdecimal():
            return facts.number == int(plain[:9])
        return not plain or any(plain.casefold() in word.casefold() for word in facts.words)


@dataclass(frozen=True)
class Picked(Generic[T]):
    """What is shown, and how to go on."""

    rows: tuple[T, ...]
    found: int
    of: int
    part: int
    """0 where all parts are shown at once."""
    parts: int
    begins: Mapping[str, int]
    """The part in which each division begins."""
    wanted: Wanted

    def to(self, part: int | str) -> dict[str, str]:
        """What an address says to show another part of the same."""
        return {**self.wanted.args, "part": str(part)}


def wanted_of(args: Mapping[str, str]) -> Wanted:
    """What the query of an address asks for; what it cannot ask for is left out."""
    asked = {name: " ".join(args.get(name, "").split())[:80] for name in ("division", "state", "find", "part")}
    if asked["state"] not in STATES:
        asked["state"] = ""
    if not (asked["part"].isdecimal() or asked["part"] == WHOLE):
        asked["part"] = ""
    return Wanted(**asked)


def pick(rows: Sequence[T], facts: Callable[[T], Facts], wanted: Wanted) -> Picked[T]:
    """The rows that are asked for, in the order given."""
    found = [(row, known) for row in rows if wanted.fits(known := facts(row))]
    parts = max(1, -(-len(found) // PART))
    begins: dict[str, int] = {}
    for place, (_, known) in enumerate(found):
        begins.setdefault(known.division, place // PART + 1)
    if wanted.part == WHOLE:
        return Picked(tuple(row for row, _ in found), len(found), len(rows), 0, parts, begins, wanted)
    part = min(max(int(wanted.part[:6] or 1), 1), parts)
    shown = tuple(row for row, _ in found[(part - 1) * PART : part * PART])
    return Picked(shown, len(found), len(rows), part, parts, begins, wanted)
