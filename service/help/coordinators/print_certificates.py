"""Print certificates."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=7,
    title=later("Print certificates"),
    why=later("There is a page for each ranked bridge, and a booklet of results with aliases alone."),
    steps=(
        later("Publish the list first."),
        later("On the desk of the contest, go to [Print] and choose the paper in your printer, A4 or Letter."),
        later("Press the button for certificates or for the booklet."),
        later("Load the page again after a moment, and open the PDF."),
        later("Print it on strong paper. Certificates show names, so hand each one to its owner."),
        later("After a correction, have them set anew."),
    ),
    related=("publish-and-correct", "privacy-and-deletion"),
)
