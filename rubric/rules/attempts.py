"""Attempts: how many there are, which of them counts, and how long to wait between two.

.. code-block:: yaml

    attempts: {most: 5, counts: best, wait: 10 min}

A student whose attempts earned 40, 62 and 55 points keeps 62; with ``counts: last`` 55, with ``counts:
first`` 40.  A sixth file is not taken, nor one handed in 5 minutes after the one before; but a file with mistakes is
no attempt.  Left out, there is no end of attempts, the best counts, and nobody waits.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Literal, get_args

from pydantic import Field

from rubric.language import _, counted, later
from rubric.rules.lateness import how_late
from rubric.shapes import CountFrom1, Minutes, Shape, choice

Counts = Literal["best", "last", "first"]

_COUNTING: dict[Counts, str] = {
    "best": later("the best one counts"),
    "last": later("the last one counts"),
    "first": later("the first one counts"),
}


class Attempts(Shape):
    """See the module's docstring, which is the page the teacher reads."""

    most: CountFrom1 | None = Field(None, description=later("how many there are"), examples=["5"])
    counts: Annotated[Counts, choice(*get_args(Counts))] = Field(
        "best", description=later("which of them counts"), examples=["best"]
    )
    wait_min: Minutes = Field(0.0, description=later("the time between two"), examples=["10 min"])

    def left(self, used: int, given: int = 0) -> int | None:
        """How many more may be handed in; None where there is no end.  ``given``: those of one student alone."""
        return None if self.most is None else max(0, self.most + given - used)

    def counting(self, totals: Sequence[float]) -> int | None:
        """Which of the attempts counts, as a place in ``totals``, which runs from the first to the last.

        Of two that are equally good the earlier counts.  None where there are no attempts.
        """
        if not totals:
            return None
        if self.counts == "best":
            return max(range(len(totals)), key=lambda place: (totals[place], -place))
        return 0 if self.counts == "first" else len(totals) - 1

    def rule(self) -> str:
        """What it says before anything is handed in."""
        said = [self._how_many(_(_COUNTING[self.counts]))]
        if self.wait_min:
            said.append(_("Wait {time} before you hand in again.", time=how_late(self.wait_min)))
        if self.most is not None or self.wait_min:
            said.append(_("A file with mistakes is no attempt."))
        return " ".join(said)

    def _how_many(self, which: str) -> str:
        if self.most is None:
            return _("You may hand in as often as you like: {which}.", which=which)
        return counted(
            "You have {count} attempt: {which}.", "You have {count} attempts: {which}.", self.most, which=which
        )
