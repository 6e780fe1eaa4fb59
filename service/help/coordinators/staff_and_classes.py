"""Staff and classes."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=1,
    title=later("Staff and classes"),
    why=later("You make classes, give them to teachers, and give out passwords."),
    steps=(
        later("Open [Staff and classes] at the top of the page."),
        later("Type a name and a [Class code], and press [Make the class]."),
        later("Type the name of a teacher, tick what the teacher [Teaches], and press [Add]."),
        later("Give the password to that teacher alone. It is shown once."),
        later("When somebody takes over a class, tick it and press [Keep]."),
        later("To call a class something else, open its list and press [Rename the class]. Its code stays."),
        later("Was a password lost? Press [New password]. The old one stops working."),
    ),
    related=("start-a-class", "print-sign-in-cards", "privacy-and-deletion"),
)
