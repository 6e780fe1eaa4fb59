"""Keep backups."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=9,
    title=later("Keep backups"),
    why=later("Everything lies in one database, so one copy is enough, if it is whole and you have tried it."),
    steps=(
        later("On one machine, stop Kingpost, copy the whole folder that ``KINGPOST_DATA`` names, and start it again."),
        later("With PostgreSQL, use ``pg_dump``, and copy the folder as well."),
        later("Copy each night while a class or a contest is at work, and by hand before an upgrade."),
        later(
            "Keep copies under lock, and delete old ones after a time that you have set down: they hold pupils' data."
        ),
        later(
            "Once a term, start Kingpost from a copy on another machine and sign in. A copy that nobody tried is a "
            "hope."
        ),
    ),
    related=("privacy-and-deletion",),
)
