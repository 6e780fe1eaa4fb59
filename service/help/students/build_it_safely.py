"""Build it safely."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import scenes
from service.help.task import Task

TASK = Task(
    place=11,
    title=later("Build it safely"),
    why=later("With good cuts and good glue the real bridge comes close to the drawing."),
    steps=(
        later("On the page of your attempt go to [To build it]. Press [Building plan], then print the plan at 100 %."),
        later("Measure the bar on each page. If it is too short or too long, print again."),
        later("Ask an adult before you use a knife or a saw. Cut on a board, away from your fingers."),
        later("Mark each piece with its name as you cut it."),
        later("Lay clear film over the plan and glue on it. Open a window, and keep glue off your skin."),
        later("Let the glue dry as long as its label says."),
        later("Wear goggles when you load the bridge. Keep your face and feet away. Nobody stands on it."),
    ),
    related=("enter-the-contest", "understand-your-sheet"),
    figure=scenes.glued_on_the_plan,
)
