"""Put a class away and begin the next year."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=12,
    title=later("Put a class away and begin the next year"),
    why=later("A class that is put away leaves your desk. Its work is kept, and can be set again elsewhere."),
    steps=(
        later("Hand the marks on first."),
        later(
            "Open the students of the class and press [Put this class away]. They can still read, and hand nothing in."
        ),
        later("For the new class, ask the coordinator, then bring in its list."),
        later("Open the old assignment, press [Set it again] and choose the new class. Give it new dates."),
        later("To look back, find the class under [Put away] on your desk. [Open the class again] undoes it."),
    ),
    related=("start-a-class", "set-work", "privacy-and-deletion"),
)
