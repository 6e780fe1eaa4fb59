"""Start a class from a list."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=1,
    title=later("Start a class from a list"),
    why=later("A class list brings in all pupils at once, and finds those again who are here already."),
    steps=(
        later("Ask the coordinator to make the class and to give it to you. It then stands under [Classes]."),
        later("Open the students of the class and press [Bring in a class list]."),
        later("Paste one name a line, or choose a file: any CSV, or a OneRoster zip. Press [Look at it]."),
        later("Under [What was understood], change what a column holds if it is wrong, and press [Look again]."),
        later("Read [What would change]: who is new, who was found again, who is not on the list."),
        later("Press [Bring the list in]. Print the cards of new pupils at once: their words are shown only then."),
    ),
    related=("print-sign-in-cards", "set-work", "a-pupil-leaves"),
)
