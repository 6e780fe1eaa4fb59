"""Set up a contest."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=2,
    title=later("Set up a contest"),
    why=later("A contest ranks bridges of many classes under one set of rules."),
    steps=(
        later(
            "Set work for a class and fill in [Or begin a new contest]. Choose that [Contest] when you set work for "
            "the other classes."
        ),
        later("Under [Classes], find the contest and press [entries, stations and results]."),
        later("Press [Write the rules]: divisions, dates, limits, ties and the rig. They are checked while you type."),
        later("Press [Save the rules]. A later change says who would stand elsewhere before you save it."),
        later("Wait for entries, then press [Lock the entries now]."),
        later("Press [Draw the running order], and print [Labels to print] and [Running order to print]."),
    ),
    related=("set-work", "weigh-in", "load-test-safely"),
)
