"""A truss that the brief gives: a problem whose answer is known, where students hand in their working alone.

.. code-block:: yaml

    problem:
      joints: {a: [0, 0], b: [300, 0], c: [600, 0], d: [300, 200]}
      members: {a-b: bar, b-c: bar, a-d: bar, d-c: bar, b-d: bar}

Joints and members are written as in a truss file; supports and load are those of the brief.
"""

from __future__ import annotations

import math
from itertools import combinations
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, model_validator

from rubric.language import _, later
from rubric.problems import quoted
from rubric.shapes import Length, Shape, Words, fault
from rubric.spelling import did_you_mean

APART_MM = 0.5
"""Joints nearer to each other than this would be one."""


def _place(value: Any) -> Any:
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise fault(quoted(str(value)), _("a pair of coordinates"), _("write for example 'a: [0, 150]'."))
    return value


JointPlace = Annotated[tuple[Length, Length], BeforeValidator(_place)]


class GivenTruss(Shape):
    """See the module's docstring, which is the page the teacher reads."""

    joints: dict[str, JointPlace] = Field(
        description=later("joints in mm by name"), examples=["{a: [0, 0], b: [300, 0]}"]
    )
    members: dict[str, Words] = Field(description=later("a stick for each member"), examples=["{a-b: square5}"])

    @model_validator(mode="after")
    def _fits_together(self) -> GivenTruss:
        if not 2 <= len(self.joints) <= 60 or not 1 <= len(self.members) <= 120:
            found = _("{joints} joints and {members} members", joints=len(self.joints), members=len(self.members))
            raise fault(found, _("2 to 60 joints and 1 to 120 members"), _("give a smaller truss."))
        for name in self.joints:
            if not name or "-" in name or " " in name or len(name) > 20:
                raise fault(
                    _("a joint called {word}", word=quoted(name)),
                    _("a short name without dashes"),
                    _("rename it."),
                    "joints",
                    name,
                )
        for (one, here), (other, there) in combinations(self.joints.items(), 2):
            if math.dist(here, there) < APART_MM:
                raise fault(
                    _("the joints {one} and {other} in one place", one=one, other=other),
                    _("joints apart"),
                    _("move one."),
                    "joints",
                    other,
                )
        seen: set[frozenset[str]] = set()
        for name in self.members:
            ends = name.split("-")
            unknown = [end for end in ends if end not in self.joints]
            if len(ends) != 2 or unknown:
                mend = did_you_mean(unknown[0], self.joints) if len(ends) == 2 else _("write for example 'a-b'.")
                raise fault(
                    _("the member {word}", word=quoted(name)),
                    _("two joints with a dash between"),
                    mend,
                    "members",
                    name,
                )
            if len(set(ends)) == 1 or frozenset(ends) in seen:
                raise fault(
                    _("the member {word}", word=quoted(name)),
                    _("each pair of joints once"),
                    _("take it out."),
                    "members",
                    name,
                )
            seen.add(frozenset(ends))
        return self

    def stick_of(self, member: str) -> str:
        """The name of the stick that a member is cut from: 'square5' of 'square5 x2'."""
        return self.members[member].split()[0]

    def at(self, x: float, y: float) -> str | None:
        """The joint that stands there, or None."""
        near = (name for name, place in self.joints.items() if math.dist(place, (x, y)) <= APART_MM)
        return next(near, None)
