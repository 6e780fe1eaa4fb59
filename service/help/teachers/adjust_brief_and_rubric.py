"""Adjust the brief and the rubric."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=4,
    title=later("Adjust the brief and the rubric"),
    why=later("You see who would change, by how much and why, before anything is saved."),
    steps=(
        later("Open the assignment and press [Brief and rubric (version …)]."),
        later("Change the text. It is checked while you type; without scripts press [Check]."),
        later("Press [See who would change]. All work that is there is marked for a trial."),
        later("Under [Save it], say why. Students read it."),
        later("Save it for new work alone, or press [Save it and mark the class again]."),
        later("Was it wrong? Open [Versions, mark again] and press [Take it back]."),
    ),
    related=("set-work", "correct-a-mark", "brief", "rubric", "measures"),
)
