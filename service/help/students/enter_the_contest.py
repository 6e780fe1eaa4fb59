"""Enter the contest."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=10,
    title=later("Enter the contest"),
    why=later("In a contest your bridge is weighed, loaded and ranked beside those of other classes."),
    steps=(
        later("Choose the attempt that you will build, and open its page."),
        later("Press [Enter this bridge in the contest]. You see it if your task counts for one."),
        later("Read [The rules]. They say until when you may change your mind."),
        later("If you are asked, give your [Age on the day] or your [Division]."),
        later("Press [Enter this bridge]. You get a number. Write it on your bridge."),
        later("Build just this attempt. A better one can take its place until entries are locked."),
    ),
    related=("hand-in-and-compare", "build-it-safely", "choose-your-alias"),
)
