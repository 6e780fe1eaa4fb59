"""Set work for a class."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import scenes
from service.help.task import Task

TASK = Task(
    place=3,
    title=later("Set work for a class"),
    why=later("Work is a brief and a rubric with dates. Nobody sees it until you set it."),
    steps=(
        later("Under [Classes], press [Set work] below the class."),
        later("Under [Start from], choose a ready brief and rubric, or those of earlier work. Press [Put them in]."),
        later("Give it a title, and dates on the school's clock."),
        later("Choose [Students are given their marks at once] or [Marks wait until you release them]."),
        later("Press [What a student will see] and read it as your class will."),
        later("Press [Set this work]."),
    ),
    related=("adjust-brief-and-rubric", "more-time", "watch-a-class", "brief", "rubric"),
    figure=scenes.room_of_a_brief,
)
