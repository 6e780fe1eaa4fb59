"""Look for work that is alike."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=11,
    title=later("Look for work that is alike"),
    why=later("Likeness is a question to ask, not a proof. It is never part of a mark, and only staff see it."),
    steps=(
        later("Open the assignment and press [Work that is alike]."),
        later("Press [Look for work that is alike]. It takes a moment."),
        later("Look at each pair side by side. Rare choices count; plain patterns hardly do."),
        later("Read [What many of this class have]: what everybody does says nothing about two."),
        later("Talk to both before you decide anything. They may have worked together as you asked."),
    ),
    related=("watch-a-class", "correct-a-mark"),
)
