"""Alike work: what a worker notes of each truss, what it is asked to compare, what it found.

Only numbers of rows travel, no names.  Likeness is told to teachers alone and is never part of a mark.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, model_validator

MOST_JOINTS, MOST_BARS = 400, 1200
"""More than any truss file may hold."""

MOST_PAIRS = 100
"""More than a teacher would look through."""

FARTHEST = 1_000_000
"""A place lies at most so many parts of the span away."""
_Place = Annotated[int, Field(ge=-FARTHEST, le=FARTHEST)]


class Message(BaseModel):
    """The common shape: immutable, and a key that is not known is refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Fingerprint(Message):
    """The structure of one truss without names, order, place, size or sticks.

    ``joints`` are (x, y) in ten-thousandths of the span, from the left support, y up, from left to
    right; ``bars`` are pairs of rows of ``joints``.  A joint that only cuts a straight member in two is
    left out.
    """

    joints: tuple[tuple[_Place, _Place], ...] = Field(max_length=MOST_JOINTS)
    bars: tuple[tuple[int, int], ...] = Field(max_length=MOST_BARS)
    span_mm: float = Field(gt=0, le=1e9)
    """The span that ``joints`` are measured by; with it a number can be seen to be round, or odd."""

    @model_validator(mode="after")
    def _bars_have_joints(self) -> Fingerprint:
        if any(not 0 <= end < len(self.joints) for bar in self.bars for end in bar):
            raise ValueError("a bar names a joint that is not there")
        return self


class Work(Message):
    """One attempt, as it is compared."""

    submission: int
    student: int
    group: int
    """The assignment: all works of one class at one brief."""
    fingerprint: Fingerprint


class Pair(Message):
    """Two works of different students that are alike in what is rare about them."""

    one: int
    other: int
    likeness: float = Field(ge=0, le=1)
    bits: float
    """How much more likely this is between a work and its copy than between two students who worked
    alone, as a power of two."""
    turned: bool = False
    """Whether the other fits when it is mirrored left to right."""


class Shared(Message):
    """Submissions of many students of one class that are all alike: perhaps shown in a lesson."""

    submissions: tuple[int, ...]
