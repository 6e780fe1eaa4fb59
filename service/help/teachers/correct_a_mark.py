"""Correct a mark and comment."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=7,
    title=later("Correct a mark and comment"),
    why=later("You have the last word on every criterion. Each change is kept with name, date and reason."),
    steps=(
        later("Open the attempt. Give what waits for your judgement under [Your points] and press [Save points]."),
        later("To change a computed criterion, press [Correct and comment]."),
        later("Type the points and a reason. The student reads the reason."),
        later("Write a comment on a criterion, or on [The work as a whole]."),
        later("Press [Save changes]. The sheet is printed anew."),
    ),
    related=("hold-and-release", "second-marking", "adjust-brief-and-rubric"),
)
