"""Make your bridge lighter."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import forces
from service.help.task import Task

TASK = Task(
    place=7,
    title=later("Make your bridge lighter"),
    why=later("The board counts how many times its own weight a bridge can carry. So every gram you save helps."),
    steps=(
        later(
            "Look at [Utilisation] in the table [Members]. A low number means that the stick is too strong for its job."
        ),
        later("Take a thinner stick there. Change one or two sticks at a time."),
        later("Leave the stick that breaks first. If you thin it, the bridge carries less."),
        later("Keep all triangles. A stick with no force may still hold a long one in place."),
        later("Hand in again and look at [Efficiency]. It should have grown."),
        later("Press [Compare two attempts] to see what each change did."),
    ),
    related=("stop-buckling", "hand-in-and-compare", "understand-your-sheet"),
    figure=forces.how_full,
)
