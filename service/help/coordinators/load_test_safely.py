"""Run a load test safely."""

from __future__ import annotations

from rubric.language import later
from service.help.figures import scenes
from service.help.task import Task

TASK = Task(
    place=4,
    title=later("Run a load test safely"),
    why=later("A breaking bridge throws splinters, and the load falls. The safety list comes before every test."),
    steps=(
        later(
            "Put a catch box under the rig, and draw a line on the floor 2 m away. Everybody near the rig wears eye "
            "protection."
        ),
        later(
            "Press [Stations]. Under [Safety: confirm each line], tick each line that is true, and press [Open the "
            "load test]."
        ),
        later("One adult operates the rig. Call each bridge by its number in the running order."),
        later("Put the load on slowly, without jerks. Stop at the most that the rules allow."),
        later("Type the number and the [Peak reading]. Say [How it broke] and [Where it broke first]. Press [Keep]."),
        later("Take the load off before anybody reaches in."),
    ),
    related=("weigh-in", "publish-and-correct", "a-protest"),
    figure=scenes.load_test,
)
