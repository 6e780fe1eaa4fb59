"""When a pupil leaves."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=13,
    title=later("When a pupil leaves"),
    why=later("Somebody who left can no longer sign in; their work is kept until you delete it."),
    steps=(
        later("Open the students of the class and press [Has left] in the row."),
        later("Was it a slip? Press [Take back] under [Leavers]."),
        later("Do parents ask what is kept? Press [Data, deletion], then [Take all data (zip)]."),
        later(
            "To delete everything of a pupil, type the name there and press [Delete the pupil]. This cannot be taken "
            "back."
        ),
        later("Lists of a contest that were published keep the figures, without the alias."),
    ),
    related=("print-sign-in-cards", "privacy-and-deletion", "kept"),
)
