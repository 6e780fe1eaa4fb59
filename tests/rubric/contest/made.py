"""Rules and bridges made up for tests."""

from __future__ import annotations

from typing import Any

from rubric.contest.official import Bridge, Reading
from rubric.contest.rules import ContestRules, read_rules

RIG = "rig: {most: 400 N}\n"


def rules(more: str = "") -> ContestRules:
    """Rules with these lines beside the least there is."""
    return read_rules(f"title: T\n{RIG}{more}".encode())


def bridge(number: int, mass_g: float | None, load_N: float | None, **more: Any) -> Bridge:
    """A bridge that was weighed and loaded once."""
    readings = [
        Reading(10 * number + place, kind, value)
        for place, (kind, value) in enumerate([("mass", mass_g), ("load", load_N)])
        if value is not None
    ]
    given = {"alias": f"Bridge {number}", "division": "All", "school_class": "8B", "named": number}
    return Bridge(number=number, readings=tuple(readings), **(given | more))
