"""Choose your alias."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import sums
from service.help.task import Task

TASK = Task(
    place=9,
    title=later("Choose your alias"),
    why=later("Boards show your alias and never your name. You choose what it is."),
    steps=(
        later("Press [Alias: …] at the top of the page."),
        later("Pick one that you like and press [Take this alias]. For more, press [Show me others]."),
        later("Or write your own under [Or in your own words] and press [Ask for it]. Do not use your name."),
        later("Your teacher looks at your own words first. Until then boards show the old alias."),
        later("Was it refused? You are told why. Then choose again."),
    ),
    related=("enter-the-contest", "kept"),
    figure=sums.board,
)
