"""Why a truss moves and in how many ways, in sentences that pages and sheets share."""

from __future__ import annotations

from collections.abc import Callable

from rubric.messages.outcomes import Analysis
from rubric.wording import listed, plural

_ORDER = ("first", "second", "third")
_MOST_NAMED = 6


def lacks(analysis: Analysis) -> str:
    """Whether members are missing, or the members are enough and the form is critical."""
    missing, critical = analysis.missing_bars, analysis.critical
    if not missing:
        return (
            "No member is missing: it moves because of its shape. That is called a critical form. "
            "Moving a joint would stop it. Where a joint must stay, one more member would."
            if critical
            else ""
        )
    said = f"{plural(missing, 'member')} {'is' if missing == 1 else 'are'} missing."
    if not critical:
        return said
    more = "one more way" if critical == 1 else f"{critical} more ways"
    return f"{said} In {more} it moves because of its shape: moving a joint would stop that."


def ways(analysis: Analysis, name: Callable[[str], str] = str) -> str:
    """How many ways it can move and which joints move in each of the first; nothing where there is one way alone."""
    if analysis.mechanisms < 2 or not analysis.ways:
        return ""
    each = [
        f"In the {order}, {_who(tuple(map(name, joints)), again=joints in analysis.ways[:index])}."
        for index, (order, joints) in enumerate(zip(_ORDER, analysis.ways, strict=False))
    ]
    return " ".join((f"It can move in {analysis.mechanisms} ways, and the drawing shows the first.", *each))


def _who(joints: tuple[str, ...], again: bool) -> str:
    if again:
        return "the same joint moves another way" if len(joints) == 1 else "the same joints move another way"
    if len(joints) == 1:
        return f"joint {joints[0]} moves"
    rest = len(joints) - _MOST_NAMED
    named = listed(joints) if rest <= 0 else f"{', '.join(joints[:_MOST_NAMED])} and {rest} more"
    return f"joints {named} move"
