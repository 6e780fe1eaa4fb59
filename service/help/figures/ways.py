"""Ways in steps, drawn as boxes under one another with arrows between them."""

from __future__ import annotations

from collections.abc import Sequence

from rubric.drawing import palette
from rubric.language import _
from rubric.messages.outcomes import Figure
from service.help.figures import kit

_ROW, _HIGH = 54.0, 34.0


def hold_and_release() -> Figure:
    """What a student reads at each stage of a mark."""
    stages = (
        (_("marked"), _("nobody but staff sees it")),
        (_("held"), _("mistakes, and whether it stands")),
        (_("released"), _("points, forces, sheet, board")),
    )
    return _way(stages, _("What a student reads, and when"))


def second_marking() -> Figure:
    """From asking for a second marking to what stands."""
    stages = (
        (_("asked for"), _("you choose who and what")),
        (_("marked blind"), _("no name, no first points")),
        (_("settled"), _("you say what stands, and why")),
    )
    return _way(stages, _("The way of a second marking"))


def protest() -> Figure:
    """From a protest to a corrected list."""
    stages = (
        (_("noted"), _("bridge, what it is about")),
        (_("looked at"), _("raw readings, rules of that time")),
        (_("answered"), _("the answer stays with it")),
        (_("corrected"), _("a new list, with a notice")),
    )
    return _way(stages, _("The way of a protest"))


def _way(stages: Sequence[tuple[str, str]], title: str) -> Figure:
    """Boxes under one another, each with what it means beside it."""
    parts = []
    for place, (name, means) in enumerate(stages):
        y = 10 + place * _ROW
        parts.append(kit.box(10, y, 112, _HIGH, palette.SHADE))
        parts.append(kit.say(name, (66, y + _HIGH / 2), bold=True))
        parts.append(kit.say(means, (136, y + _HIGH / 2), "start"))
        if place:
            parts.append(kit.arrow((66, y - _ROW + _HIGH), (66, y), palette.INK, 1.6))
    told = "; ".join(f"{number}. {name}: {means}" for number, (name, means) in enumerate(stages, 1))
    return kit.finished(parts, 10 + len(stages) * _ROW - _ROW + _HIGH + 10, title, f"{told}.")
