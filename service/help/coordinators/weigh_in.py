"""Run a weigh-in."""

from __future__ import annotations

from rubric.language import later
from service.help.task import Task

TASK = Task(
    place=3,
    title=later("Run a weigh-in"),
    why=later("Each bridge is weighed and checked with a ruler before it is loaded."),
    steps=(
        later("On the desk of the contest press [Stations], name the station, and press [Open the weigh-in]."),
        later("Put a known weight on the scale first, to see that it is right."),
        later("Type the number of the bridge and the [Mass in g]. Tick what you [Checked with a ruler]."),
        later("Press [Keep]. Where a value looks odd you are asked; press [It is right: keep it as it is] if it is."),
        later("A slip is taken back under [Last readings], with a reason. Nothing is ever wiped out."),
        later("Is the network away? Go on typing. What you type is sent when it is back."),
        later("At the end press [Close this station]."),
    ),
    related=("load-test-safely", "set-up-a-contest", "publish-and-correct"),
)
