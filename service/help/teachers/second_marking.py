"""Have work marked a second time."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import ways
from service.help.task import Task

TASK = Task(
    place=10,
    title=later("Have work marked a second time"),
    why=later("A teacher who does not teach the class marks without names. You settle what differs."),
    steps=(
        later("Open the assignment and press [Second marking]."),
        later("Say [Who marks], and how many attempts to draw by chance, or choose them."),
        later("Press [Ask]. The other teacher finds the work under [Classes]."),
        later("The other teacher marks each one and presses [Give these points]."),
        later("Open what differs, type [Points that stand] and a reason, and press [Settle]."),
    ),
    related=("correct-a-mark", "hold-and-release"),
    figure=ways.second_marking,
)
