"""Entry conditions: what must hold before a mark, or a place on the leaderboard, counts.

.. code-block:: yaml

    entry:
      - {measure: mechanisms, at most: 0, if not: zero}
      - {measure: limits broken, at most: 0, if not: off the board}
      - {measure: mass, at most: 80 g, if not: cap at 40 points}

A truss that can move earns nothing, whatever else it does well; one that breaks a limit keeps its mark and
stands on no leaderboard; one of 90 g earns 40 points at most.  A truss that keeps all three is marked as if
they were not there.  A measure that a truss does not have is a condition that it does not meet.
"""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import Field

from rubric.criteria.common import points_written
from rubric.criteria.measured import Bound, said
from rubric.evidence import Evidence
from rubric.language import _, later
from rubric.measures import CATALOGUE
from rubric.problems import quoted
from rubric.quantities import number
from rubric.shapes import fault
from rubric.wording import points
from rubric.written import DECIMAL, one_of, reads, text_like

ZERO, OFF_THE_BOARD = "zero", "off the board"


def _if_not(value: Any) -> str:
    text = " ".join(str(value).split()).casefold()
    if text in (ZERO, OFF_THE_BOARD):
        return text
    cap = re.fullmatch(r"cap at (\S+)( points?)?", text)
    given = number(cap[1]) if cap else None
    if given is None or not 0 < given <= 1000 or round(given, 2) != given:
        raise fault(quoted(text), _("'zero', 'off the board' or 'cap at 40 points'"), _("write one of the three."))
    return f"cap at {points_written(given)}"


_CONSEQUENCE = {"anyOf": [one_of((ZERO, OFF_THE_BOARD)), text_like(rf"[Cc][Aa][Pp] +at +{DECIMAL}(?: +points?)?")]}


class Condition(Bound):
    """A measure that must reach a number."""

    @property
    def asked_in_full(self) -> str:
        """``the mass is at most 80 g``."""
        return _("{measure} is {value}", measure=CATALOGUE[self.measure].in_a_sentence, value=self.asked)

    def holds(self, evidence: Evidence) -> bool:
        """Whether the condition is met."""
        value = evidence.measures.get(self.measure)
        return value is not None and self.reached(value)

    def why(self, evidence: Evidence) -> str:
        """What was seen and what was asked, where it does not hold."""
        measure = CATALOGUE[self.measure]
        value = evidence.measures.get(self.measure)
        if value is None:
            missing = _("there is no {measure} to look at", measure=measure.said)
            return missing if evidence.read else _("the file holds mistakes")
        return _("{seen}, and {asked} was asked", seen=said(measure, value), asked=self.asked)


class Entry(Condition):
    """See the module's docstring, which is the page the teacher reads."""

    if_not: Annotated[str, reads(_if_not, _CONSEQUENCE)] = Field(
        description=later("what happens where it does not hold"), examples=["zero"]
    )

    @property
    def cap(self) -> float | None:
        """The most that the whole can be worth where this does not hold; None: as much as ever."""
        if self.if_not == OFF_THE_BOARD:
            return None
        return 0.0 if self.if_not == ZERO else float(self.if_not.split()[2])

    def rule(self) -> str:
        """What it says before anything is handed in."""
        if self.if_not == OFF_THE_BOARD:
            return _("A bridge stands on the leaderboard only if {asked}.", asked=self.asked_in_full)
        if self.if_not == ZERO:
            return _("A bridge earns points only if {asked}.", asked=self.asked_in_full)
        over = points(self.cap or 0.0)
        return _("A bridge earns over {points} points only if {asked}.", points=over, asked=self.asked_in_full)
