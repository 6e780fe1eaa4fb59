"""What a worker tells of a truss beside its numbers: drawings, and the student's own numbers worked through.

Plain text and drawings, written out by the worker, so that sheet and page say the same in the same words.
"""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field


class _Shape(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Figure(_Shape):
    """A drawing as SVG and what it tells a person who cannot see it."""

    svg: str = Field(max_length=400_000)
    alternative: str


class Pull(_Shape):
    """One line of a sum: a force on a joint and its parts, N, as printed.

    ``angle`` is from the level, 0 to 90 degrees; nothing where a part is given outright.
    """

    name: str
    force: str
    angle: str
    across: str
    up: str


class CutFree(_Shape):
    """A joint cut free, with everything that pulls or pushes at it.  ``across`` and ``up`` are the sums as printed."""

    joint: str
    role: str
    """Why this joint is shown: ``a support`` and the like."""
    pulls: tuple[Pull, ...]
    across: str
    up: str
    drawing: Figure


class Part(_Shape):
    """A heading and what is said under it, a paragraph each; nothing stands there for a truss that has none of it."""

    title: str = ""
    says: tuple[str, ...] = ()


class Picture(_Shape):
    """One more drawing under its heading; None where it is too large for a page and stands on the sheet alone."""

    title: str
    text: str = ""
    drawing: Figure | None


class Told(_Shape):
    """What sheet and page say of a truss."""

    first: Part
    """What it carries and what breaks first, or how it moves: the first thing to read."""
    then: tuple[str, ...] = ()
    """What belongs to that and may be read later: its weight, other ways of moving."""
    why: Part = Part()
    """Why a mechanism moves."""
    check: Part = Part()
    """How to check the sums of the joints."""
    joints: tuple[CutFree, ...] = Field(default=(), max_length=8)
    signs: str = ""
    supports: Part = Part()
    """The reactions, worked through."""
    failing: Part = Part()
    """Why the first member breaks, worked through."""
    full: Picture | None = None
    """How hard each member works."""
    pictures: tuple[Picture, ...] = Field(default=(), max_length=8)
    """How it bends, the scatter, a load that moves, how it comes down: what there is of these."""

    @property
    def drawings(self) -> tuple[Figure, ...]:
        """Every drawing in it."""
        further = [*([self.full] if self.full else []), *self.pictures]
        return (*(one.drawing for one in self.joints), *(one.drawing for one in further if one.drawing))
