"""Hand marks on to your mark book."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=9,
    title=later("Hand marks on to your mark book"),
    why=later("Marks leave as a spreadsheet, as result files for a mark book, or printed."),
    steps=(
        later("Open the assignment and press [Hand the marks on]."),
        later("For a spreadsheet, press [CSV with commas] or [CSV with semicolons]."),
        later("For a mark book, fill in [The class there (its sourcedId)] and press [Get the zip]."),
        later(
            "Pupils without a number of the school are left out there. Mend it with [Bring in a class list with "
            "numbers]."
        ),
        later(
            "To print, press [Class report (PDF)], or [All printed sheets (zip)] on the assignment. The report names "
            "students and shows held marks."
        ),
    ),
    related=("hold-and-release", "start-a-class"),
)
