"""Hand in and compare attempts."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import sums
from service.help.task import Task

TASK = Task(
    place=8,
    title=later("Hand in and compare attempts"),
    why=later("You may hand in more than once. Each attempt is kept, so you can try things out."),
    steps=(
        later("Open your task under [My work]. Read [What to build] and [How it is marked]."),
        later("Write your file there, paste it, or choose it."),
        later("Press [Hand in]. The page changes by itself when your bridge is marked."),
        later("Read [What to try next]. Then change one thing in your file."),
        later("Press [Hand in again] and hand in the new file."),
        later("Press [Compare two attempts]. You see what was changed and what it did."),
    ),
    related=("write-a-truss-file", "make-it-lighter", "understand-your-sheet"),
    figure=sums.attempts,
)
