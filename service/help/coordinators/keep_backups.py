"""Keep backups."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=9,
    title=later("Keep backups"),
    why=later("Everything lies in one database, so one copy is enough, if it is whole and you have tried it."),
    steps=(
        later(
            "On one machine, run ``kingpost backup`` with the name of a new folder. Kingpost may run meanwhile: the "
            "copy is of one moment."
        ),
        later(
            "With PostgreSQL, the same command says how to call ``pg_dump``. Copy the file ``secret-key`` of the "
            "folder that ``KINGPOST_DATA`` names as well."
        ),
        later("To go back to a copy, stop Kingpost, let ``KINGPOST_DATA`` name that folder, and start it again."),
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
