"""Understand your sheet."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=3,
    title=later("Understand your sheet"),
    why=later("The sheet says what your bridge can carry, what breaks first, and how you earned your points."),
    steps=(
        later("On the page of your attempt, press [Feedback sheet to print (PDF)]."),
        later("Look at the drawing. Thin green sticks are pulled. Thick purple sticks are pushed."),
        later("Read what breaks first and why. A bridge is as strong as its weakest stick."),
        later("Read [What to try next]. Each tip was tried on your own bridge first."),
        later("Find the table of points. It tells why you earned them, and how to earn the rest."),
        later("Check one joint with a calculator. You should get the same sums."),
    ),
    related=("read-forces-and-signs", "make-it-lighter", "words"),
)
