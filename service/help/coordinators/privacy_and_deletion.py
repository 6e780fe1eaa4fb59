"""Privacy and deletion."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=8,
    title=later("Privacy and deletion"),
    why=later("The page [What is kept] tells everybody what is kept, why and how long. You set how long classes stay."),
    steps=(
        later("Open [Staff and classes], then [How long classes are kept, deletion]."),
        later(
            "Fill in [Delete a class so many months after it was last active] and press [Keep this]. You are told 30 "
            "days before."
        ),
        later("To delete a class now, press [Delete] in its row and type its code. This cannot be taken back."),
        later("To see who did what, open [Record: who did what, and when]."),
        later("Remember your backups: what is deleted here is still in them."),
    ),
    related=("a-pupil-leaves", "keep-backups", "kept"),
)
