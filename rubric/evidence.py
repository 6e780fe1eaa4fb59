"""Evidence: everything that a mark rests on, beside what the teacher gives herself.

In: what the worker measured and compared, what the service knows of time and places.  Kept as
plain JSON, so that the same work can be marked again, under the same rubric or a new one, without
solving it again.
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from rubric.language import _
from rubric.measures import Measures

Verdict = Literal["right", "follows", "rounded", "unit", "sense", "wrong", "left out"]
"""How an answer compares.

``follows``: right from an earlier slip; ``rounded``: right but rounded too far; ``unit``: right but for a unit;
``sense``: T or C, or the direction, is right and the size is wrong.
"""


class _Plain(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Answer(_Plain):
    """One thing that the student worked out by hand, beside what holds."""

    about: Literal["reaction", "force", "zero"]
    name: str
    """The member, or a joint and a direction such as 'a x' and 'a y'."""
    given: str
    """As the student wrote it; nothing where it was left out."""
    given_N: float | None
    true_N: float
    """Tension positive; a reaction is positive to the right and upward."""
    verdict: Verdict
    said: str
    """One short sentence for the student, with units and signs."""

    @property
    def spoken(self) -> str:
        """``a-b`` as it is; ``the reaction at a``."""
        joint, __, axis = self.name.partition(" ")
        return _("the reaction at {joint}", joint=joint) if axis and self.about == "reaction" else self.name


class Place(_Plain):
    """A place among many: 1 is first, and who is level shares a place."""

    place: int = Field(ge=1)
    of: int = Field(ge=1)


class Evidence(_Plain):
    """What is known of one piece of work."""

    measures: Measures = Field(default_factory=dict)
    """Nothing at all: the file holds mistakes and could not be read to its end."""
    working: dict[str, tuple[Answer, ...]] = Field(default_factory=dict)
    """By name of the criterion of kind ``working``; no answers: a truss that can move has none."""
    places: dict[str, Place] = Field(default_factory=dict)
    """By name of the criterion of kind ``place``; one that is missing is not settled yet."""
    minutes_late: float = 0.0
    """After the due date; 0 in time."""

    @property
    def read(self) -> bool:
        """Whether the file could be read to its end."""
        return bool(self.measures)
