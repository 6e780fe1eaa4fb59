"""Write a truss file."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import shapes
from service.help.task import Task

TASK = Task(
    place=1,
    title=later("Write a truss file"),
    why=later("The file tells where your joints are, and which sticks join them."),
    steps=(
        later("Draw one side of your bridge on graph paper. The left support is at 0, 0."),
        later("Give each joint a name, such as a, b or c. Note how far right it is and how far up, in mm."),
        later("Open your task under [My work] and go to [Hand in a file]."),
        later(
            "Type a line for each joint, like ``a: [0, 0]``. Then type a line for each stick, like ``a-b: square5``."
        ),
        later("Press [Look at it first]. You see a drawing of what was understood. Nothing is handed in yet."),
        later("Not sure how to start? Open [An example that fits this brief] and press [Begin with this example]."),
    ),
    related=("truss-file", "read-your-mistakes", "make-it-stand", "words"),
    figure=shapes.written_down,
)
