"""Make your bridge stand: triangles."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import shapes
from service.help.task import Task

TASK = Task(
    place=5,
    title=later("Make your bridge stand: triangles"),
    why=later("A frame of triangles keeps its shape. A frame of squares folds when you push it."),
    steps=(
        later("Look at your drawing. Find each shape that has four or more sides."),
        later("Put a stick across it, from corner to corner. Now it is made of triangles."),
        later("Give each joint two sticks or more that do not lie in one line."),
        later("Put a joint at each support, and where the load hangs."),
        later("Press [Look at it first]. If a joint can move, you are told which one."),
        later("Add a stick there and look again."),
    ),
    related=("stop-buckling", "read-your-mistakes", "write-a-truss-file"),
    figure=shapes.square_and_triangle,
)
