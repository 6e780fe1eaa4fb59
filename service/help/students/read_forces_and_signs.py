"""Read forces and signs."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import forces
from service.help.task import Task

TASK = Task(
    place=4,
    title=later("Read forces and signs"),
    why=later("A force has a size in newtons (N) and a sign. The sign tells a pull from a push."),
    steps=(
        later("T and a plus mean tension: the stick is pulled."),
        later("C and a minus mean compression: the stick is pushed."),
        later("In a drawing, a thin green line is pulled and a thick purple line is pushed. Grey dots carry nothing."),
        later("Look at the arrows. They leave the joints of a pulled stick. They enter the joints of a pushed one."),
        later("Find [Utilisation] in the table [Members]. It says how full a stick is. At 100 % it is about to fail."),
        later("Get a feeling for it: an apple of 100 g pulls down with about 1 N."),
    ),
    related=("stop-buckling", "understand-your-sheet", "words"),
    figure=forces.pull_and_push,
)
