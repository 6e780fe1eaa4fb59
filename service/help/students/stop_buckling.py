"""Stop buckling."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import forces
from service.help.task import Task

TASK = Task(
    place=6,
    title=later("Stop buckling"),
    why=later("A long thin stick bows out and gives way when you push its ends. That is called buckling."),
    steps=(
        later("Open your attempt. In the table [Members], look for buckling under [Would fail by]."),
        later("Make that stick shorter. Half as long, it takes up to four times the push."),
        later("Or put a joint at its middle and hold it there with more sticks."),
        later("Or take a thicker stick. Or glue two side by side: write ``x2`` after its name."),
        later("Leave pulled sticks as they are. A pull does not make them buckle."),
        later("Hand in again and press [Compare two attempts]."),
    ),
    related=("read-forces-and-signs", "make-it-lighter", "hand-in-and-compare"),
    figure=forces.long_and_short,
)
