"""Read your mistakes."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=2,
    title=later("Read your mistakes"),
    why=later("A file with mistakes is never lost. You are told which line is wrong, and how to mend it."),
    steps=(
        later("Open the attempt. At the top it says how many places there are to mend."),
        later("Find the line in your file. The column counts letters from the left."),
        later("Read [Found]: that is what you wrote. Then read [Expected]: that is what fits there."),
        later("Do what [To mend it] says. Often it is one letter or one comma."),
        later("Start at the top. One slip can cause the next one."),
        later("Press [Hand in again] and hand in the mended file."),
    ),
    related=("write-a-truss-file", "truss-file", "make-it-stand"),
)
