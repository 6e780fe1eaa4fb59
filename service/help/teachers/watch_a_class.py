"""Watch a class at work."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import sums
from service.help.task import Task

TASK = Task(
    place=6,
    title=later("Watch a class at work"),
    why=later("One table shows who handed in, how it went, and what needs you."),
    steps=(
        later("Open the assignment under [Classes]. The table renews itself while files come in."),
        later("Choose a state and press [Show] to see, say, only those with mistakes in the file."),
        later("Open an attempt from its row to see what the student sees."),
        later("Notices tell what needs you. When it is done, press [Settled]."),
        later("Press [What the work shows] for how marks spread, which members fail, and questions worth a lesson."),
    ),
    related=("correct-a-mark", "work-that-is-alike", "hold-and-release"),
    figure=sums.spread,
)
