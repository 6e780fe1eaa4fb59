"""The teacher's own judgement: points that no computation gives.

.. code-block:: yaml

    - name: Sketch and reasons
      kind: judgement
      look for: a clear sketch, and a reason for the shape of the truss
      levels:
        - {words: every joint drawn and every choice argued, points: 10}
        - {words: drawn to scale, points: 6}
        - {words: hard to read, points: 2}
      points: 10

The criterion waits, and the total is shown as unfinished, until the teacher has filled it in.  A teacher
who gives 6 of 10 may add a comment, which the student reads beside the words of that level; one who gives
0 had better say why.  ``levels`` may be left out, and points between two levels may be given.
"""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, model_validator

from rubric.criteria.common import Criterion, Found, Judgements, points_said
from rubric.criteria.measured import best_is, worth
from rubric.evidence import Evidence
from rubric.language import _, later
from rubric.shapes import Shape, Words, fault
from rubric.wording import points


class Level(Shape):
    """A descriptor and what it is worth."""

    words: Words = Field(description=later("what work of this level is like"), examples=["drawn to scale"])
    points: float = Field(description=later("what it earns"), examples=["6"])


class Judgement(Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["judgement"]
    look_for: Words = Field(description=later("what the teacher looks for"), examples=["a clear sketch"])
    levels: tuple[Level, ...] = Field(
        (),
        description=later("a list of levels"),
        examples=["[{words: clear, points: 10}, {words: hard to read, points: 2}]"],
    )

    @model_validator(mode="before")
    @classmethod
    def _worths(cls, data: Any) -> Any:
        if not isinstance(data, dict) or not isinstance(data.get("levels"), list | tuple):
            return data
        levels = [
            {**level, "points": worth(level["points"], data.get("points"), "levels", place, "points")}
            if isinstance(level, dict) and "points" in level
            else level
            for place, level in enumerate(data["levels"])
        ]
        return {**data, "levels": levels}

    @model_validator(mode="after")
    def _sensible(self) -> Judgement:
        if self.deduct:
            raise fault(
                _("a judgement that deducts"),
                _("points for what you like"),
                _("take 'deduct' out; a level may be worth 0 points."),
                "deduct",
            )
        if self.say.model_dump(exclude_none=True):
            raise fault(_("'say' in a judgement"), _("your words in levels and comments"), _("take 'say' out."), "say")
        worths = [level.points for level in self.levels]
        if len(set(worths)) < len(worths):
            raise fault(_("two levels of the same points"), _("different points for each"), _("change one."), "levels")
        if worths:
            best_is(max(worths), self.points, _("levels"), "levels")
        return self

    @property
    def asked(self) -> str:
        levels = "; ".join(f"{level.words}: {points(level.points)}" for level in self.levels)
        return f"{self.look_for} ({levels})" if levels else self.look_for

    def find(self, evidence: Evidence, judgements: Judgements) -> Found:
        """What the teacher gave, within the criterion's points."""
        given = judgements.get(self.name)
        if given is None:
            return Found(None, _("not yet looked at"), _("Your teacher fills this in."))
        earned = round(min(max(given.points, 0.0), self.points), 2)
        rest = self.points - earned
        level = next((level.words for level in self.levels if level.points == earned), "")
        return Found(
            earned,
            _("looked at by your teacher: {level}", level=level) if level else _("looked at by your teacher"),
            given.comment or _("Your teacher's judgement."),
            _("Ask your teacher how to earn the other {points}.", points=points_said(rest)) if rest > 0 else "",
        )
