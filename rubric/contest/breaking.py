"""How a bridge broke, as whoever ran the load test saw it: one of few ways, noted and never inferred.  Pure."""

from __future__ import annotations

from collections.abc import Collection
from typing import Literal, get_args

from rubric.language import _, later

Way = Literal[
    "pulled apart",
    "buckled sideways",
    "buckled in its plane",
    "crushed",
    "bent through",
    "joint came off",
    "tipped or twisted",
    "did not break",
    "not seen",
]

WAYS: dict[str, str] = {
    "pulled apart": later("a stick was pulled apart"),
    "buckled sideways": later("a stick buckled sideways"),
    "buckled in its plane": later("a stick buckled in the plane of its side"),
    "crushed": later("a stick was crushed"),
    "bent through": later("a stick bent through"),
    "joint came off": later("a joint came off"),
    "tipped or twisted": later("the whole bridge tipped or twisted"),
    "did not break": later("it did not break, stopped at the preset maximum"),
    "not seen": later("not seen"),
}
"""What is kept of a test, and what people read; the order in which a station numbers them."""

assert set(WAYS) == set(get_args(Way))

MODE_OF = {
    "pulled apart": "tension",
    "buckled sideways": "buckling",
    "buckled in its plane": "buckling",
    "crushed": "crushing",
    "bent through": "bending",
    "joint came off": "joint",
    "tipped or twisted": "",
}
"""The mode that a prediction would have named; nothing where none is predicted.  Ways that tell none are left out."""

AXIS_OF = {"buckled sideways": "out of plane", "buckled in its plane": "in plane"}
"""Which way a strut buckled, in the words of a prediction."""


def how_said(how: str) -> str:
    """How it broke, in words; ``not noted`` for a reading that does not say."""
    return _(WAYS[how]) if how in WAYS else _("not noted")


def place_said(where: str) -> str:
    """The place that was noted: ``a-b`` is a member and ``a`` a joint, an older note is a phrase of its own."""
    if not where or "-" in where or " " in where:
        return _(where)
    return _("joint {name}", name=where)


def at_the_place(where: str, member: str) -> bool:
    """Whether the place that was noted is the predicted member or one of its two joints."""
    return bool(where) and (where == member or where in member.split("-"))


def joints_of(members: Collection[str]) -> list[str]:
    """The joints between which members run, each once."""
    return list(dict.fromkeys(end for name in members for end in name.split("-")))
