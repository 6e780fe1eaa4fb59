"""Hold marks back and release them."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import ways
from service.help.task import Task

TASK = Task(
    place=8,
    title=later("Hold marks back and release them"),
    why=later(
        "While a mark is held, its student reads whether the file has mistakes and whether the truss stands, no more."
    ),
    steps=(
        later("Open the assignment and press [Hold and release]."),
        later("For attempts to come, choose [Marks wait until you release them] and press [Keep this]."),
        later("Tick attempts in the table, or choose all marked ones."),
        later("Press [Hold] to take marks back. Give a reason if they were seen already."),
        later("Press [Release] when you are ready. Points, forces, sheet and places on a board come then."),
    ),
    related=("correct-a-mark", "second-marking", "hand-marks-on"),
    figure=ways.hold_and_release,
)
