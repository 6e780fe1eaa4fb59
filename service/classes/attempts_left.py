"""How many attempts a student has left, when the next may come, and what lateness costs.

Pure: the rubric's rules and what was handed in, sentences out.  A file with mistakes, or one that
could not be marked, is no attempt: the student mends it and hands it in again at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Protocol

from rubric.criteria.common import points_said
from rubric.language import _, counted
from rubric.rules.attempts import Attempts
from rubric.rules.lateness import Lateness, how_late
from rubric.wording import points
from service.records.models import NOT_MARKED

_MORE_THAN_ANY = 1e6
"""Points, so that lateness in points costs what it says."""


class HandedIn(Protocol):
    """What is asked of an attempt."""

    @property
    def state(self) -> str:
        """Its state."""

    @property
    def has_mistakes(self) -> bool:
        """Whether its file holds mistakes."""

    @property
    def handed_in(self) -> datetime:
        """When it came, UTC."""


@dataclass(frozen=True)
class Left:
    """What a student may still hand in."""

    used: int
    left: int | None
    """None where there is no end."""
    next_at: datetime | None
    """When the next may come, UTC; None where it may come now."""


def attempts_left(rule: Attempts, own: Sequence[HandedIn], moment: datetime, more: int = 0) -> Left:
    """What the rule leaves of a student's attempts, handed in from first to last, with ``more`` of their own."""
    counted = [one for one in own if one.state != NOT_MARKED and not one.has_mistakes]
    ready = counted[-1].handed_in + timedelta(minutes=rule.wait_min) if counted else moment
    return Left(len(counted), rule.left(len(counted), more), ready if ready > moment else None)


def used_said(left: Left) -> str:
    """How many attempts are used, where there is an end to them."""
    if left.left is None:
        return ""
    if left.left == 0:
        return counted("You have used all {count} attempt.", "You have used all {count} attempts.", left.used)
    every = left.used + left.left
    return counted(
        "You have used {used} of {count} attempt.", "You have used {used} of {count} attempts.", every, used=left.used
    )


def late_said(rule: Lateness | None, due: datetime | None, moment: datetime) -> str:
    """What a file handed in at this moment would lose; nothing where it is in time."""
    if due is None or moment <= due:
        return ""
    minutes = (moment - due).total_seconds() / 60
    late = how_late(minutes)
    if rule is None:
        return _("Handed in now, your work is {late} late. Your teacher sees that.", late=late)
    if not rule.steps(minutes):
        return _("Handed in now, your work is {late} late. That costs nothing yet.", late=late)
    if rule.in_parts:
        part = points(rule.cost(minutes, 100))
        return _("Handed in now, your work is {late} late and loses {part} % of its points.", late=late, part=part)
    lost = points_said(rule.cost(minutes, _MORE_THAN_ANY))
    return _("Handed in now, your work is {late} late and loses {points}.", late=late, points=lost)
