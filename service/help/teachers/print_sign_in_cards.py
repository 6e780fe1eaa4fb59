"""Print sign-in cards."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=2,
    title=later("Print sign-in cards"),
    why=later("Everybody signs in with the class code and three words of their own."),
    steps=(
        later("Open the students of the class from [Classes]."),
        later("For one pupil who lost the card, press [New words]. The old words stop working."),
        later("For everybody, open [New sign-in cards for the whole class] and press the button there."),
        later("Print the page at once. The words are kept only as a hash and cannot be shown again."),
        later(
            "Cut along the lines and hand out the cards. The code on a card opens the sign-in page with everything "
            "filled in."
        ),
        later("Was a card found by somebody else? Give that pupil new words."),
    ),
    related=("start-a-class", "a-pupil-leaves"),
)
