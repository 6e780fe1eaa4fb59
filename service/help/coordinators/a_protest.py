"""Answer a protest."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import ways
from service.help.task import Task

TASK = Task(
    place=5,
    title=later("Answer a protest"),
    why=later("A protest is noted, looked at and answered in writing, and stays with the bridge."),
    steps=(
        later("On the desk of the contest press [The list, confirmations, protests]."),
        later(
            "Open [Disqualify a bridge, or note a protest], then the bridge. Type what it is about and press [Note "
            "the protest]."
        ),
        later(
            "Look at the raw readings of the bridge. ``kingpost recompute`` shows how each figure follows from them."
        ),
        later("Type your answer under [Protests] and press [Answer it]."),
        later("If the list was published and is wrong, publish a correction that says so."),
    ),
    related=("publish-and-correct", "load-test-safely"),
    figure=ways.protest,
)
