"""Publish the list, and correct it."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=6,
    title=later("Publish the list, and correct it"),
    why=later("A list is computed from raw readings, seen by two people, and public only when you publish it."),
    steps=(
        later("On the desk of the contest press [The list, confirmations, protests]."),
        later("Let a second person look at each podium place and press [I looked at it too: it is right]."),
        later("Answer what stands under [Protests]."),
        later("Press [Publish the list]. Everybody finds it under [Published results]."),
        later(
            "To correct it, write [What is corrected and why] and press [Publish the correction]. The earlier list "
            "is kept."
        ),
    ),
    related=("a-protest", "print-certificates", "weigh-in"),
)
