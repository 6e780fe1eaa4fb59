"""Give more time or more attempts."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=5,
    title=later("Give more time or more attempts"),
    why=later("One student can have a later date or more attempts than the class."),
    steps=(
        later("Open the assignment and press [Dates and extensions]."),
        later("For everybody, change the dates and press [Keep these dates]."),
        later("For one student, fill in [Has time until] and press [Give more time]."),
        later("For more attempts, press [Give more attempts]."),
        later(
            "To hand in for somebody, open the student and press [Hand in for them]; for many, press [Hand in for "
            "the class (zip)] on the assignment."
        ),
    ),
    related=("set-work", "watch-a-class"),
)
