"""The rubric: criteria with points, declared by a teacher.  No formulas, no code."""

from __future__ import annotations

from pydantic import Field, model_validator

from rubric.criteria import AnyCriterion
from rubric.criteria.common import Points, points_said
from rubric.problems import quoted
from rubric.shapes import Shape, Words, fault, read


class Rubric(Shape):
    """How a truss is judged."""

    title: Words = Field(description="a title", examples=["Footbridge marks"])
    out_of: Points | None = Field(None, description="the sum of all points", examples=["100"])
    criteria: tuple[AnyCriterion, ...] = Field(
        description="a list of criteria", examples=["[{name: ..., kind: ..., points: ...}]"]
    )

    @model_validator(mode="after")
    def _adds_up(self) -> Rubric:
        names = [criterion.name for criterion in self.criteria]
        twice = sorted({name for name in names if names.count(name) > 1})
        if not 1 <= len(names) <= 50:
            raise fault(f"{len(names)} criteria", "1 to 50", "add or take out criteria.")
        if twice:
            raise fault(f"two criteria called {quoted(twice[0])}", "different names", "rename one of them.")
        total = round(sum(criterion.points for criterion in self.criteria), 6)
        if self.out_of is not None and total != self.out_of:
            raise fault(
                f"criteria worth {points_said(total)} in all under 'out of: {self.out_of:g}'",
                "the two to agree",
                "change 'out of' or the points of a criterion.",
            )
        return self


def read_rubric(data: bytes) -> Rubric:
    """Read a rubric from the bytes of its YAML file.

    Raises
    ------
    Refused
        With every problem of the file.
    """
    return read(Rubric, data)
